using System.Globalization;
using System.Net;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Log;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Pages;

public sealed class LogFormTests(OneService running) : IClassFixture<OneService>
{
    private long Bed => running.Service.Invented.Hazels;

    [Theory]
    [InlineData("en", "1.5", 1.5)]
    [InlineData("es", "1.5", 1.5)]
    [InlineData("en", "1,5", 1.5)]
    [InlineData("es", "1,5", 1.5)]
    [InlineData("es", "0,25", 0.25)]
    [InlineData("en", " 12 ", 12)]
    public async Task A_number_means_the_same_in_every_language(string language, string typed, double kept)
    {
        using var browser = Browser(language);
        using var answer = await PostAsync(browser, "picked", ("amount", typed));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        await using var store = running.Service.Store();
        Assert.Equal(kept, store.LogEntries.OrderBy(e => e.Id).Last().Amount);
    }

    [Theory]
    [InlineData("en")]
    [InlineData("es")]
    public async Task A_number_with_a_mark_of_thousands_or_none_at_all_is_refused_at_its_field(string language)
    {
        foreach (var typed in new[] { "1.234,5", "1,234.5", "1 500", "", "-1", "1e3", "NaN", "x", "99999", "٣" })
        {
            using var browser = Browser(language);
            using var answer = await PostAsync(browser, "picked", ("amount", typed));
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            var page = await HtmlPage.ReadAsync(answer);
            Assert.Equal("true", page.QuerySelector("#amount")!.GetAttribute("aria-invalid"));
            Assert.Equal("amount-error", page.QuerySelector("#amount")!.GetAttribute("aria-describedby"));
            Assert.NotEmpty(page.QuerySelector("#amount-error")!.TextContent);
            Assert.Equal(typed, page.QuerySelector("#amount")!.GetAttribute("value"));
            Assert.NotNull(page.QuerySelector("[role=alert] a[href='#amount']"));
        }
    }

    [Theory]
    [InlineData("2026-04-01")]
    [InlineData("2026-10-15")]
    [InlineData("14/10/2026")]
    [InlineData("")]
    public async Task A_day_before_the_bed_or_after_today_is_refused_at_its_field(string day)
    {
        using var browser = Browser("en");
        using var answer = await PostAsync(browser, "pins", ("on", day));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("14 October", (await HtmlPage.ReadAsync(answer)).QuerySelector("#on-error")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_chosen_and_too_long_a_note_are_refused()
    {
        using var browser = Browser("en");
        using var answer = await PostAsync(browser, "cover", ("text", "tarpaulin"), ("note", new string('x', 1001)));
        var page = await HtmlPage.ReadAsync(answer);
        Assert.NotNull(page.QuerySelector("#text-error"));
        Assert.NotNull(page.QuerySelector("#note-error"));
    }

    [Fact]
    public async Task A_form_without_its_token_is_refused()
    {
        using var browser = Browser("en");
        using var answer = await browser.PostAsync(Path("?handler=log"), new FormUrlEncodedContent([new("kind", "pins"), new("on", "2026-10-14")]));
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("Nothing was changed", (await HtmlPage.ReadAsync(answer)).Body!.Read(), StringComparison.Ordinal);
        await using var store = running.Service.Store();
        Assert.DoesNotContain(store.LogEntries.Where(e => e.BedId == Bed), e => e.Kind == "pins");
    }

    [Fact]
    public async Task An_unknown_kind_and_an_unknown_bed_are_refused()
    {
        using var browser = Browser("en");
        using var kind = await PostAsync(browser, "watered", ("kind", "sung-to"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, kind.StatusCode);
        var form = (await browser.OpenAsync(Path("?log=pins"))).QuerySelector("form.entry")!;
        form.SetAttribute("action", "/beds/999?handler=log");
        using var bed = await browser.SubmitAsync(form);
        Assert.Equal(HttpStatusCode.NotFound, bed.StatusCode);
    }

    [Fact]
    public async Task Whatever_was_written_is_shown_as_written()
    {
        using var browser = Browser("en");
        const string note = "<script>alert(1)</script> \u202E =cmd & \"quotes\"";
        using var answer = await PostAsync(browser, "contamination", ("note", note));
        var page = await HtmlPage.ReadAsync(answer);
        Assert.Empty(page.QuerySelectorAll("script"));
        Assert.Contains(page.QuerySelectorAll(".note"), e => e.TextContent == note);
    }

    [Fact]
    public async Task A_long_log_folds_its_earlier_entries_away_and_loses_none()
    {
        await using (var store = running.Service.Store())
        {
            store.LogEntries.AddRange(Enumerable.Range(1, 12).Select(day => new LogEntry
            {
                BedId = running.Service.Invented.Young,
                Kind = LogKinds.Pins,
                On = new LocalDate(2026, 10, day),
                RecordedAt = InventedCooperative.Now,
            }));
            await store.SaveChangesAsync();
        }

        using var browser = Browser("en");
        var page = await browser.OpenAsync(string.Create(CultureInfo.InvariantCulture, $"/beds/{running.Service.Invented.Young}"));
        Assert.Equal(12, page.QuerySelectorAll(".entries li").Length);
        Assert.Equal(2, page.QuerySelectorAll("details.earlier li").Length);
        Assert.Equal("2026-10-12", page.QuerySelector(".entries time")!.GetAttribute("datetime"));
        Assert.Equal("Earlier: 2", page.QuerySelector("details.earlier summary")!.Read());
    }

    [Fact]
    public async Task Undo_takes_an_entry_out_once_and_a_second_time_changes_nothing()
    {
        using var browser = Browser("en");
        using var made = await PostAsync(browser, "spawn-taken");
        var page = await HtmlPage.ReadAsync(made);
        var undo = page.QuerySelectorAll(".entries li").First(e => e.Read().Contains("Spawn taken", StringComparison.Ordinal)).QuerySelector("button")!;
        for (var i = 0; i < 2; i++)
        {
            using var undone = await browser.SubmitAsync(undo);
            Assert.Equal(HttpStatusCode.OK, undone.StatusCode);
            Assert.DoesNotContain("Spawn taken", (await HtmlPage.ReadAsync(undone)).QuerySelector(".entries")!.Read(), StringComparison.Ordinal);
        }
    }

    /// <summary>What the form asks for is what the log takes: the ends of every range pass, a step beyond does not.</summary>
    [Fact]
    public void The_ranges_of_the_form_are_those_of_the_log()
    {
        foreach (var kind in LogKinds.All)
        {
            var asked = LogQuestions.Of(kind);
            var text = asked.Choice is { } choice ? LogQuestions.Choices(choice, BedCatalogue.BuiltIn).First() : null;
            double? Ends(AmountAsked? range, bool high, double beyond) =>
                range is null ? null : (high ? range.High + beyond : range.Low - beyond) * range.Kept;
            foreach (var high in new[] { false, true })
            {
                Read(Ends(asked.Amount, high, 0), Ends(asked.Depth, high, 0));
                if (asked.Amount is not null)
                    Assert.Throws<LogEntryException>(() => Read(Ends(asked.Amount, high, 1e-3), Ends(asked.Depth, high, 0)));
                if (asked.Depth is not null)
                    Assert.Throws<LogEntryException>(() => Read(Ends(asked.Amount, high, 0), Ends(asked.Depth, high, 1e-3)));
            }

            void Read(double? amount, double? depth) => LogKinds.ToModel(
                new LogEntry { Kind = kind, On = new LocalDate(2026, 10, 1), Amount = amount, Depth = depth, Text = text }, 1, BedCatalogue.BuiltIn);
        }
    }

    private HttpClient Browser(string language)
    {
        var browser = running.Service.Browser();
        browser.Speak(language);
        return browser;
    }

    private async Task<HttpResponseMessage> PostAsync(HttpClient browser, string kind, params (string Name, string Value)[] filled)
    {
        var form = (await browser.OpenAsync(Path($"?log={kind}"))).QuerySelector("form.entry")!;
        return await browser.SubmitAsync(form, filled);
    }

    private string Path(string query) => string.Create(CultureInfo.InvariantCulture, $"/beds/{Bed}{query}");
}
