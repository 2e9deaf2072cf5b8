using System.Globalization;
using System.Net;
using System.Text;
using AngleSharp.Dom;
using FruitWatch.Feeds;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Feeds;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Pages;

public sealed class FeedPageTests(FeedWorkshop workshop) : IClassFixture<FeedWorkshop>
{
    private InventedCooperative Invented => workshop.Service.Invented;

    [Fact]
    public async Task Every_shipped_description_can_be_chosen_and_says_what_it_needs_and_its_licence()
    {
        using var browser = workshop.Service.Browser();
        var page = await browser.OpenAsync("/feeds/new");
        var links = page.QuerySelectorAll("ul.presets a").Select(link => link.GetAttribute("href")).ToList();
        Assert.Equal(FeedPresets.All.Count, links.Count);
        foreach (var preset in FeedPresets.All)
        {
            var form = (await browser.OpenAsync($"/feeds/new?preset={preset.Id}")).QuerySelector("form.feed-form")!;
            Assert.Equal(preset.NeedsStation, form.QuerySelector("#station") is not null);
            Assert.Equal(preset.NeedsKey, form.QuerySelector("#key") is not null);
            Assert.Equal(preset.IsUpload, form.QuerySelector("#file") is not null);
            Assert.Equal(preset.Json.Trim(), form.QuerySelector("textarea")!.TextContent.Trim());
        }
    }

    [Fact]
    public async Task A_file_is_chosen_looked_at_and_saved_without_a_script()
    {
        using var browser = workshop.Service.Browser();
        var form = (await browser.OpenAsync("/feeds/new?preset=station-daily-csv")).QuerySelector("form.feed-form")!;
        using var sent = Multipart(form, ("site", Key(Invented.MillField)));
        sent.Add(new StringContent("date,tmax_c,tmin_c,rain_mm\n2026-10-10,18.2,8,T\n2026-10-12,17,7,4.4\n"), "file", "roof.csv");
        using var answer = await browser.PostAsync(form.GetAttribute("action"), sent);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.StartsWith("/feeds/trials/", answer.RequestMessage!.RequestUri!.AbsolutePath, StringComparison.Ordinal);
        var page = await HtmlPage.ReadAsync(answer);

        var cells = page.QuerySelectorAll("table.understood tbody tr")[0].QuerySelectorAll("td").Select(cell => cell.Read()).ToList();
        Assert.Equal(["18.2 complete in the answer: 18.2 °C", "8.0 complete in the answer: 8 °C", "0.0 complete in the answer: T mm", "past"], cells);
        Assert.Contains("11 Oct 2026: unknown", page.QuerySelector(".feed-odd")!.Read(), StringComparison.Ordinal);
        Assert.Contains("tells nothing of: Mean, Humidity", page.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.Equal("Station", page.QuerySelector("input[name=slots][checked]")!.GetAttribute("value"));

        using var saved = await browser.SubmitAsync(page.QuerySelector("#title")!, ("title", "Roof station"), ("slots", "Station"));
        Assert.Equal("/feeds", saved.RequestMessage!.RequestUri!.AbsolutePath);
        var list = await HtmlPage.ReadAsync(saved);
        Assert.Contains("saved", list.QuerySelector("[role=status]")!.Read(), StringComparison.Ordinal);
        Assert.Contains(list.QuerySelectorAll(".feed-card h3"), title => title.Read() == "Roof station");
    }

    [Fact]
    public async Task A_trial_page_shows_gaps_incomplete_and_unknown_in_words_and_foreign_text_as_text()
    {
        using var browser = workshop.Service.Browser();
        var page = await browser.OpenAsync($"/feeds/trials/{Invented.Trial}");
        Assert.Empty(page.QuerySelectorAll("script"));
        var row = page.QuerySelectorAll("table.understood tbody tr").Single(row => row.QuerySelector("time")!.GetAttribute("datetime") == "2026-10-11");
        Assert.Equal("unknown", row.QuerySelectorAll("td")[0].Read());
        Assert.Equal("unknown", row.QuerySelectorAll("td")[2].Read());
        Assert.Contains("<script>alert(1)</script>", page.QuerySelector(".feed-head pre")!.TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain("<script>alert", page.QuerySelector("main")!.InnerHtml, StringComparison.Ordinal);
        Assert.Equal("region", page.QuerySelector(".feed-days .scroll")!.GetAttribute("role"));
        Assert.Equal("0", page.QuerySelector(".feed-days .scroll")!.GetAttribute("tabindex"));
    }

    [Fact]
    public async Task What_is_missing_is_told_at_its_field_and_nothing_is_asked()
    {
        using var browser = workshop.Service.Browser();
        var form = (await browser.OpenAsync("/feeds/new?preset=frost-daily")).QuerySelector("form.feed-form")!;
        using var sent = Multipart(form, ("site", ""));
        using var answer = await browser.PostAsync(form.GetAttribute("action"), sent);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var page = await HtmlPage.ReadAsync(answer);
        Assert.StartsWith("Error:", page.Title, StringComparison.Ordinal);
        foreach (var field in new[] { "site", "station", "key" })
        {
            Assert.NotNull(page.QuerySelector($"[role=alert] a[href='#{field}']"));
            Assert.Equal("true", page.QuerySelector("#" + field)!.GetAttribute("aria-invalid"));
            Assert.Contains($"{field}-error", page.QuerySelector("#" + field)!.GetAttribute("aria-describedby"), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_wrong_description_is_told_with_pointer_and_line_and_what_was_written_stays()
    {
        using var browser = workshop.Service.Browser();
        var form = (await browser.OpenAsync($"/feeds/trials/{Invented.Trial}")).QuerySelector("textarea")!;
        var wrong = FeedPresets.Find("station-daily-csv")!.Json.Replace("\"assign\": \"midpoint\"", "\"assign\": \"sideways\"", StringComparison.Ordinal);
        using var answer = await browser.SubmitAsync(form, ("description", wrong));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var page = await HtmlPage.ReadAsync(answer);
        var line = 1 + wrong[..wrong.IndexOf("sideways", StringComparison.Ordinal)].Count(c => c == '\n');
        Assert.Contains($"/daily/tmax/assign, line {line.ToString(CultureInfo.InvariantCulture)}", page.QuerySelector("[role=alert]")!.Read(), StringComparison.Ordinal);
        Assert.Contains("sideways", page.QuerySelector("textarea")!.TextContent, StringComparison.Ordinal);
        Assert.True(page.QuerySelector("details.advanced")!.HasAttribute("open"));
    }

    [Fact]
    public async Task A_refusal_by_the_feed_is_told_with_what_came_instead()
    {
        using var browser = workshop.Service.Browser();
        using var api = new ApiClient(workshop.Service);
        workshop.Server.Answer(0, () => "<html><b>sign in</b></html>", "text/html");
        var trial = await workshop.TryAsync(api, workshop.Description());
        var page = await browser.OpenAsync($"/feeds/trials/{trial.Json.GetProperty("id").GetString()}");
        using var answer = await browser.SubmitAsync(page.QuerySelector(".feed-again button")!);
        workshop.Server.Answer(0, () => FeedWorkshop.Days().ToJsonString());
        var told = (await HtmlPage.ReadAsync(answer)).QuerySelector(".feed-refusal")!;
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("body.notExpectedType", told.Read(), StringComparison.Ordinal);
        Assert.Equal("<html><b>sign in</b></html>", told.QuerySelector("pre")!.TextContent);
        Assert.Null(told.QuerySelector("pre b"));
    }

    [Fact]
    public async Task The_health_of_each_feed_is_told_in_words_and_a_held_answer_is_confirmed_by_a_button()
    {
        await using (var store = workshop.Service.Store())
        {
            await store.SiteFeeds.Where(row => row.SiteId == Invented.AlderLane).ExecuteDeleteAsync();
            store.SiteFeeds.Add(new SiteFeed
            {
                SiteId = Invented.AlderLane,
                FeedId = Invented.Feed,
                FirstTriedAt = InventedCooperative.Now - Duration.FromDays(9),
                LastGoodAt = InventedCooperative.Now - Duration.FromDays(3),
                LastTriedAt = InventedCooperative.Now - Duration.FromHours(1),
                NextTryAt = InventedCooperative.Now + Duration.FromHours(5),
                ProblemCode = "feed.suspectUnits",
                Problem = "Are these °F? <i>54</i>",
                Question = """{"text":"Are these °F? <i>54</i>","fits":"[degF]","pointer":"/series/high/unit/code","value":"\"[degF]\""}""",
                FailuresInARow = 4,
                LastDay = InventedCooperative.Today,
                Notes = """[{"code":"time.gap","sentence":"No value on <b>3</b> days.","place":"/daily/time/3","count":3}]""",
            });
            await store.SaveChangesAsync();
        }

        using var browser = workshop.Service.Browser();
        var page = await browser.OpenAsync("/feeds");
        var card = page.QuerySelector($"#feed-{Key(Invented.AlderLane)}-{Key(Invented.Feed)}")!;
        var text = card.Read();
        Assert.Contains("held: are its units right?", text, StringComparison.Ordinal);
        Assert.Contains("Are these °F? <i>54</i>", text, StringComparison.Ordinal);
        Assert.Contains("3 days ago", text, StringComparison.Ordinal);
        Assert.Contains("Silent since ", text, StringComparison.Ordinal);
        Assert.DoesNotContain("UTC", text, StringComparison.Ordinal);
        Assert.Contains("in 5 hours", text, StringComparison.Ordinal);
        Assert.Contains("4 tries in a row", text, StringComparison.Ordinal);
        Assert.Contains("days are missing in the middle, 3 times", text, StringComparison.Ordinal);
        Assert.Equal("https://weather.example/", card.QuerySelector("dd a")!.GetAttribute("href"));

        using var answer = await browser.SubmitAsync(card.QuerySelectorAll("button").Single(button => button.Read().StartsWith("The units are right", StringComparison.Ordinal)));
        Assert.Equal("/feeds", answer.RequestMessage!.RequestUri!.AbsolutePath);
        await using var after = workshop.Service.Store();
        Assert.Equal(1, after.SiteFeeds.Single(row => row.SiteId == Invented.AlderLane && row.FeedId == Invented.Feed).UnitsConfirmed);
    }

    [Fact]
    public async Task A_form_without_its_token_changes_nothing()
    {
        using var browser = workshop.Service.Client();
        foreach (var path in new[] { $"/feeds/trials/{Invented.Trial}?handler=save", "/feeds?handler=ask", $"/feeds/{Key(Invented.Feed)}?handler=delete", "/feeds/new?preset=station-daily-csv" })
        {
            using var answer = await browser.PostAsync(path, new FormUrlEncodedContent([new("title", "x")]));
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        }
    }

    private static MultipartFormDataContent Multipart(IElement form, params (string Name, string Value)[] filled)
    {
        var values = form.QuerySelectorAll("input[type=hidden][name]").ToDictionary(input => input.GetAttribute("name")!, input => input.GetAttribute("value") ?? "");
        values["description"] = form.QuerySelector("textarea")!.TextContent;
        foreach (var (name, value) in filled)
            values[name] = value;
        var sent = new MultipartFormDataContent();
        foreach (var (name, value) in values)
            sent.Add(new StringContent(value, Encoding.UTF8), name);
        return sent;
    }

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
