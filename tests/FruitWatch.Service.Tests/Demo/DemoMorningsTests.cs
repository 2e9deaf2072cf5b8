using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Demo;
using FruitWatch.Service.Notices;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Tests.Demo;

public sealed class DemoMorningsTests
{
    [Fact]
    public async Task The_first_morning_has_something_of_most_kinds_to_tell()
    {
        using var folder = new DemoFolder();
        await using var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path));
        await using var store = demo.Stores.CreateDbContext();

        var kinds = await store.Notices.Where(n => n.State == NoticeState.Open).Select(n => n.Kind).Distinct().ToListAsync();
        foreach (var kind in new[]
        {
            NoticeKind.Water, NoticeKind.CoverOff, NoticeKind.ExpectPins, NoticeKind.FrostAhead, NoticeKind.ExpectHarvest, NoticeKind.WeeklyCheck,
        })
            Assert.Contains(NoticeRows.WordOf(kind), kinds);
        Assert.All(await store.Mornings.ToListAsync(), morning => Assert.Equal(("ok", "", false), (morning.FeedState, morning.Note, morning.Late)));
        Assert.Equal(3, await store.Mornings.CountAsync());
    }

    [Fact]
    public async Task Every_bed_has_an_account_and_everybody_a_mail_in_their_language()
    {
        using var folder = new DemoFolder();
        await using var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path));
        await using var store = demo.Stores.CreateDbContext();

        var books = await demo.App.Services.GetRequiredService<SiteBooks>().OpenAllAsync(store, CancellationToken.None);
        Assert.Equal(3, books.Count);
        Assert.All(books, site => Assert.NotNull(site.Forecast));
        Assert.All(books.SelectMany(site => site.Beds), bed => Assert.Equal(AccountProblem.None, bed.Problem));
        Assert.InRange(books.Sum(site => site.Beds.Count), 12, 15);

        Assert.Equal(5, folder.Mails.Count);
        Assert.Equal(["en", "es"], await store.People.Select(p => p.Language).Distinct().Order().ToListAsync());
        Assert.All(await store.People.ToListAsync(), p => Assert.Matches("@example[.](org|net)$", p.Email));
        Assert.Equal(5, await store.Outbox.CountAsync(mail => mail.State == MailState.Sent));
    }

    [Fact]
    public async Task Its_growers_write_down_what_they_do_and_never_what_is_to_come()
    {
        using var folder = new DemoFolder();
        await using var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path));
        var before = await LogAsync(demo);
        Assert.True(before.Max(entry => entry.On) < Today(demo));
        foreach (var kind in new[] { "watered", "squeeze", "mycelium", "pins", "picked", "cover", "topped-up" })
            Assert.Contains(before, entry => entry.Kind == kind);

        await demo.Stepper.StepAsync(3);
        var after = await LogAsync(demo);
        Assert.True(after.Count > before.Count);
        Assert.True(after.Max(entry => entry.On) < Today(demo));
        Assert.All(after, entry => Assert.True(entry.RecordedAt < demo.App.Services.GetRequiredService<IClock>().GetCurrentInstant()));
        Assert.All(after, entry => Assert.False(string.IsNullOrEmpty(entry.RecordedBy)));
    }

    [Fact]
    public async Task Three_mornings_are_the_same_in_two_folders_and_other_with_another_seed()
    {
        var one = await ThreeMorningsAsync(7);
        Assert.Equal(one, await ThreeMorningsAsync(7));
        Assert.NotEqual(one, await ThreeMorningsAsync(8));
    }

    [Fact]
    public async Task A_restart_goes_on_where_it_was_and_repeats_nothing()
    {
        using var folder = new DemoFolder();
        string today;
        string told;
        await using (var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path) { Seed = 3 }))
        {
            await demo.Stepper.StepAsync(2);
            today = demo.Stepper.Today;
            told = await ToldAsync(demo);
        }

        var mails = folder.Mails.Count;
        await using (var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path)))
        {
            Assert.Equal(today, demo.Stepper.Today);
            Assert.Equal(told, await ToldAsync(demo));
            Assert.Equal(mails, folder.Mails.Count);
            await demo.Stepper.StepAsync(1);
            Assert.Equal(LocalDatePattern.Iso.Parse(today).Value.PlusDays(1), Today(demo));
        }
    }

    [Fact]
    public async Task A_mail_that_somebody_waits_for_does_not_wait_for_the_next_morning()
    {
        using var folder = new DemoFolder();
        await using var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path));
        await using var store = demo.Stores.CreateDbContext();
        var now = demo.App.Services.GetRequiredService<IClock>().GetCurrentInstant();
        store.Outbox.Add(new OutgoingMail
        {
            Key = "test:1",
            ToName = "Ilse",
            ToAddress = "ilse@example.org",
            Subject = "A test",
            TextBody = "A test.",
            HtmlBody = "<p>A test.</p>",
            MessageId = "test.1@example.org",
            NextTryAt = now,
            NotAfter = now + Duration.FromHours(1),
            CreatedAt = now,
        });
        await store.SaveChangesAsync();
        var before = folder.Mails.Count;
        demo.App.Services.GetRequiredService<MailSoon>().Send();
        using var limit = new CancellationTokenSource(TimeSpan.FromMinutes(5));
        while (!await store.Outbox.AnyAsync(mail => mail.MessageId == "test.1@example.org" && mail.State == MailState.Sent, limit.Token))
            await Task.Delay(20, limit.Token);
        Assert.Equal(before + 1, folder.Mails.Count);
    }

    [Fact]
    public async Task Seattles_demo_lies_in_2013_and_credits_its_source()
    {
        using var folder = new DemoFolder();
        await using var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path) { Weather = DemoWeatherKind.Seattle });
        await demo.Stepper.StepAsync(1);
        Assert.Equal(2013, Today(demo).Year);
        await using var store = demo.Stores.CreateDbContext();
        Assert.All(await store.Feeds.ToListAsync(), feed => Assert.Contains("NOAA", feed.Description, StringComparison.Ordinal));
        Assert.All(await store.Mornings.ToListAsync(), morning => Assert.Equal("ok", morning.FeedState));
        Assert.True(await store.Notices.AnyAsync());
    }

    private static LocalDate Today(DemoHost demo) => LocalDatePattern.Iso.Parse(demo.Stepper.Today).Value;

    private static async Task<string> ThreeMorningsAsync(long seed)
    {
        using var folder = new DemoFolder();
        await using var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path) { Seed = seed });
        await demo.Stepper.StepAsync(3);
        return await ToldAsync(demo);
    }

    /// <summary>Every notice and every log entry, to the last digit.</summary>
    private static async Task<string> ToldAsync(DemoHost demo)
    {
        await using var store = demo.Stores.CreateDbContext();
        var notices = await store.Notices.OrderBy(n => n.Id).ToListAsync();
        return string.Join("\n", notices
            .Select(n => FormattableString.Invariant($"{n.BedId} {n.Kind} {n.FirstOn} {n.Day} {n.Deadline} {n.State} {n.ClosedOn} {n.Amount} {n.Reason}"))
            .Concat((await LogAsync(demo)).Select(e => FormattableString.Invariant($"{e.BedId} {e.On} {e.At} {e.Kind} {e.Amount} {e.Text} {e.RecordedBy}"))));
    }

    private static async Task<List<LogEntry>> LogAsync(DemoHost demo)
    {
        await using var store = demo.Stores.CreateDbContext();
        return await store.LogEntries.AsNoTracking().OrderBy(e => e.Id).ToListAsync();
    }
}
