using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Calendars;

/// <summary>A calendar from day to day: the same while nothing changes, and told as changed when something does (test 31).</summary>
public sealed partial class WeekTests
{
    [Fact]
    public async Task A_week_of_rounds_with_equal_results_gives_equal_bytes_and_spares_the_reader_who_has_them()
    {
        await using var run = await CalendarRun.StartAsync();
        var lane = run.Invented.AlderLane;
        await using (var store = run.Service.Store())
        {
            // A year since its last filling: asked for once, and for six weeks.
            await store.Beds.Where(row => row.Id == run.Invented.Hazels).ExecuteUpdateAsync(set => set.SetProperty(row => row.InoculatedOn, new LocalDate(2025, 4, 2)), TestContext.Current.CancellationToken);
            await store.Set<BedLayer>().Where(row => row.BedId == run.Invented.Hazels).ExecuteUpdateAsync(set => set.SetProperty(row => row.LaidOn, new LocalDate(2025, 4, 2)), TestContext.Current.CancellationToken);
        }

        var member = await run.JoinAsync(Role.Viewer, "Fiz Barreiro", lane);
        // Of what the weather does in that week nothing is shown; of what stays as it is, all.
        await run.ChangeAsync(member, person => person.KindsLeftOut = string.Join(' ', Enum.GetValues<NoticeKind>().Where(kind => kind != NoticeKind.YearlyFeeding).Select(Service.Notices.NoticeRows.WordOf)));
        var path = await run.MakeAsync(member);
        await run.NextMorningAsync(lane);
        using var first = await run.AskAsync(path);
        var bytes = await first.Content.ReadAsByteArrayAsync();
        var tag = first.Headers.ETag!;
        Assert.False(tag.IsWeak);
        Assert.Equal("private, no-cache", first.Headers.CacheControl!.ToString().Replace("no-cache, private", "private, no-cache", StringComparison.Ordinal));
        Assert.Equal("text/calendar; charset=utf-8", first.Content.Headers.ContentType!.ToString());
        Assert.Equal(0, Assert.Single((await OtherReader.ReadAsync(Encoding.UTF8.GetString(bytes))).Events).Sequence);

        for (var day = 0; day < 7; day++)
        {
            await run.NextMorningAsync(lane);
            using var again = await run.AskAsync(path);
            Assert.Equal(bytes, await again.Content.ReadAsByteArrayAsync());
            using var spared = await run.AskAsync(path, tag.Tag);
            Assert.Equal((HttpStatusCode.NotModified, tag), (spared.StatusCode, spared.Headers.ETag));
            Assert.Empty(await spared.Content.ReadAsByteArrayAsync());
        }

        // The rounds were real: each has looked at the notice and held it.
        await using var after = run.Service.Store();
        var kept = await after.Notices.SingleAsync(row => row.BedId == run.Invented.Hazels && row.Kind == "yearly-feeding", TestContext.Current.CancellationToken);
        Assert.Equal((new LocalDate(2026, 10, 22), 0), (kept.ConfirmedOn, kept.Revisions));
    }

    /// <summary>RFC 5545 §3.8.4.7 and §3.8.7.4: an entry keeps its UID, and its SEQUENCE rises with each change and with nothing else.</summary>
    [Fact]
    public async Task Sequence_rises_with_each_change_and_with_nothing_else()
    {
        await using var run = await CalendarRun.StartAsync();
        var lane = run.Invented.AlderLane;
        var path = await run.MakeAsync(await run.JoinAsync(Role.Viewer, "Goretti Vila", lane));
        var known = Entries(await run.TextAsync(path));
        var changes = 0;
        for (var day = 0; day < 9; day++)
        {
            await run.NextMorningAsync(lane);
            if (day == 4)
                await EditAsync(run, bed => bed.Name = "Straw circle");
            if (day == 6)
                await EditAsync(run, bed => bed.SunOffset = 1);
            var now = Entries(await run.TextAsync(path));
            foreach (var (uid, (sequence, text)) in now)
            {
                if (!known.TryGetValue(uid, out var before))
                    continue;
                if (before.Text == text)
                    Assert.Equal(before.Sequence, sequence);
                else
                    Assert.Equal((true, true), (before.Sequence < sequence, Modified().Match(before.Text).Value != Modified().Match(text).Value));
                changes += before.Text == text ? 0 : 1;
            }

            known = now;
        }

        Assert.True(changes > 4, $"only {changes} changes: the week was too quiet to tell");
    }

    [Fact]
    public async Task What_is_withdrawn_is_cancelled_under_its_name_and_goes_after_thirty_days()
    {
        await using var run = await CalendarRun.StartAsync();
        var today = InventedCooperative.Today;
        var straw = run.Invented.Straw;
        var path = await run.MakeAsync(await run.JoinAsync(Role.Viewer, "Helena Prado", run.Invented.AlderLane));
        var cover = await run.TellAsync(run.Invented.AlderLane, straw, new NoticeDraft(
            NoticeKind.CoverOn, today, today.PlusDays(2), NoticeConfidence.Likely, NoticeReason.Of(ReasonCode.DryAhead, (ReasonNumber.Days, 2), (ReasonNumber.WaterMark, 0.4))));
        var water = await run.TellAsync(run.Invented.AlderLane, straw, new NoticeDraft(
            NoticeKind.Water, today, today.PlusDays(1), NoticeConfidence.Firm, NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, 0.3)))
        { Amount = 30 });
        Assert.Equal(("CONFIRMED", 0), Of(await run.ReadAsync(path), "cover-on"));

        run.Pass(Duration.FromHours(26));
        await run.EndAsync(cover, NoticeEnd.Withdrawn, ClosingCode.RainComing);
        await run.EndAsync(water, NoticeEnd.Done, ClosingCode.Watered);
        var calendar = await run.ReadAsync(path);
        Assert.Equal(("CANCELLED", 1), Of(calendar, "cover-on"));
        var cancelled = calendar[$"cover-on-50-bed-{straw}@"];
        Assert.Contains("(no longer needed)", cancelled.Summary, StringComparison.Ordinal);
        Assert.Contains("Withdrawn: enough rain is now forecast.", cancelled.Description, StringComparison.Ordinal);
        Assert.Equal(("2026-10-15T08:30:00Z", "2026-10-14T06:30:00Z"), (cancelled.Stamp, cancelled.Created));
        Assert.Equal(("CONFIRMED", 1), Of(calendar, "water"));
        Assert.Contains("Done: water was given.", calendar[$"water-50-bed-{straw}@"].Description, StringComparison.Ordinal);

        run.Pass(Duration.FromDays(30));
        Assert.Equal(("CANCELLED", 1), Of(await run.ReadAsync(path), "cover-on"));
        run.Pass(Duration.FromDays(1));
        Assert.DoesNotContain((await run.ReadAsync(path)).Events, one => one.Uid.StartsWith("cover-on-50", StringComparison.Ordinal) || one.Uid.StartsWith("water-50", StringComparison.Ordinal));

        (string, int) Of(ReadCalendar read, string kind) => (read[$"{kind}-50-bed-{straw}@"].Status, read[$"{kind}-50-bed-{straw}@"].Sequence);
    }

    private static async Task EditAsync(CalendarRun run, Action<Bed> edit)
    {
        var reach = new Reach();
        reach.Open(run.Invented.Cooperative, "terminal", run.Clock);
        await using var store = run.Service.Services.GetRequiredService<StoreFactory>().CreateDbContext(reach);
        edit(await store.Beds.SingleAsync(row => row.Id == run.Invented.Straw));
        await store.SaveChangesAsync();
    }

    /// <summary>Entries by UID: the SEQUENCE of each, and the rest of it.</summary>
    private static Dictionary<string, (int Sequence, string Text)> Entries(string calendar) => Event().Matches(calendar).Select(found => found.Value).ToDictionary(
        text => Uid().Match(text).Groups[1].Value,
        text => (int.Parse(Sequence().Match(text).Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture), Sequence().Replace(text, "")));

    [GeneratedRegex("BEGIN:VEVENT.*?END:VEVENT", RegexOptions.Singleline)]
    private static partial Regex Event();

    [GeneratedRegex("\r\nUID:([^\r]+)")]
    private static partial Regex Uid();

    [GeneratedRegex("\r\nSEQUENCE:([0-9]+)")]
    private static partial Regex Sequence();

    [GeneratedRegex("\r\nLAST-MODIFIED:.*")]
    private static partial Regex Modified();
}
