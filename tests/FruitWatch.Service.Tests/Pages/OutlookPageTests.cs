using System.Globalization;
using System.Text.RegularExpressions;
using AngleSharp.Dom;
using FruitWatch.Service.Tests.Api;

namespace FruitWatch.Service.Tests.Pages;

public sealed partial class OutlookPageTests(OneService running) : IClassFixture<OneService>
{
    private InventedCooperative Invented => running.Service.Invented;

    [Fact]
    public async Task It_says_where_the_futures_come_from_and_what_to_know_of_them()
    {
        var outlook = await OutlookAsync(Invented.Young);

        Assert.Equal(
            "64 futures: the forecast to 23 October with the errors that such forecasts have, then the weather of 3 past years (2023–2025).",
            outlook.QuerySelector("p")!.Read());
        Assert.StartsWith("3 past years are few", Assert.Single(outlook.QuerySelectorAll(".notes li")).Read(), StringComparison.Ordinal);
        Assert.Null(outlook.QuerySelector(".short"));
        Assert.Equal("The forecast is 40 hours old.", outlook.QuerySelector(".warn")!.Read());
    }

    [Fact]
    public async Task A_short_outlook_says_what_makes_it_longer()
    {
        var outlook = await OutlookAsync(Invented.Straw);

        Assert.Contains("daily weather of at least two past years", outlook.QuerySelector(".short")!.Read(), StringComparison.Ordinal);
        Assert.Equal(["What", "7 days to 20 Oct", "10 days to 23 Oct"], Heads(outlook, "odds"));
    }

    [Fact]
    public async Task What_the_log_taught_stands_on_the_page_as_the_api_has_it()
    {
        using var api = new ApiClient(running.Service);
        var learned = (await api.GetAsync($"/api/v1/beds/{Key(Invented.Straw)}/outlook")).Json.GetProperty("outlook").GetProperty("learned");
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync($"/beds/{Key(Invented.Straw)}");
        var said = page.QuerySelector(".learned p")!.Read();

        // One squeeze test and one day of pins are in its log.
        Assert.Equal((1, 1), (learned.GetProperty("squeezeTests").GetInt32(), learned.GetProperty("pinsDates").GetInt32()));
        Assert.StartsWith("From 1 squeeze test and 1 day of pins:", said, StringComparison.Ordinal);
        Assert.Contains(
            string.Create(CultureInfo.InvariantCulture, $"dries about {learned.GetProperty("evaporation").GetProperty("middle").GetDouble():0.#} times as fast"), said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Chances_are_those_of_the_api_by_week_two_weeks_month_and_end_and_never_0_or_100()
    {
        using var api = new ApiClient(running.Service);
        foreach (var bed in new[] { Invented.Young, Invented.Straw, Invented.Hazels })
        {
            var told = (await api.GetAsync($"/api/v1/beds/{Key(bed)}/outlook")).Json.GetProperty("outlook");
            var outlook = await OutlookAsync(bed);
            var days = told.GetProperty("days").GetInt32();
            var spans = new[] { 7, 14, 30, days }.Where(span => span <= days).ToList();
            Assert.Equal(spans.Select(span => $"{span} days"), Heads(outlook, "odds").Skip(1).Select(head => head.Split(" to ")[0]));
            foreach (var (row, name) in Rows(outlook, "odds").Zip(["pins", "harvest", "needsWater", "tooWet", "frostTrigger"]))
            {
                var counts = spans.Select(span => told.GetProperty(name).GetProperty("count")[span - 1].GetInt32());
                Assert.Equal(counts.Select(k => $"{k} of 64"), row.QuerySelectorAll("td small").Select(HtmlPage.Read));
                Assert.All(row.QuerySelectorAll("td b"), chance => Assert.Matches("^[<>]?[1-9][0-9]? %$", chance.Read()));
            }
        }
    }

    [Fact]
    public async Task A_day_beyond_the_outlook_is_told_as_after_its_last_day()
    {
        var outlook = await OutlookAsync(Invented.Young);
        var pins = Rows(outlook, "by-day")[0];

        Assert.Equal("Pins", pins.QuerySelector("th")!.Read());
        Assert.Equal("after 10 Feb", pins.QuerySelectorAll("td")[2].Read());
        Assert.Equal(["What", "in 1 of 10 futures", "in half of the futures", "in 9 of 10 futures"], Heads(outlook, "by-day"));
    }

    [Fact]
    public async Task What_could_be_done_stands_beside_leaving_the_bed_alone_with_a_verdict()
    {
        var outlook = await OutlookAsync(Invented.Young);
        var rows = Rows(outlook, "what-if");

        Assert.Equal(4, rows.Count);
        Assert.Equal("Left alone", rows[0].QuerySelector("th")!.Read());
        Assert.Matches("^Watered, [0-9]+ litres? better$", rows[1].QuerySelector("th")!.Read());
        Assert.StartsWith("Cover put on", rows[2].QuerySelector("th")!.Read(), StringComparison.Ordinal);
        Assert.StartsWith("Watered whenever it falls below its mark", rows[3].QuerySelector("th")!.Read(), StringComparison.Ordinal);
        Assert.Contains("over 14 days to Tuesday 27 October", outlook.QuerySelector("#what-if ~ p")!.Read(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Four_weeks_of_water_stand_open_and_the_later_ones_are_folded_away()
    {
        var weeks = (await OutlookAsync(Invented.Young)).QuerySelector("#water")!.ParentElement!;

        Assert.Equal(4, weeks.QuerySelectorAll(":scope > table tbody tr").Length);
        Assert.Equal("14 later weeks", weeks.QuerySelector("summary")!.Read());
        Assert.Equal(14, weeks.QuerySelectorAll("details tbody tr").Length);
        Assert.Equal("14 Oct – 20 Oct", weeks.QuerySelector("tbody th")!.Read());
    }

    [Fact]
    public async Task The_caution_stands_once_before_the_chances_and_is_pointed_to_from_them()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync($"/beds/{Key(Invented.Young)}");
        var caution = Assert.Single(page.QuerySelectorAll(".eating"));
        var chances = page.QuerySelector(".outlook table")!;

        Assert.True(caution.CompareDocumentPosition(chances).HasFlag(DocumentPositions.Following));
        Assert.Equal("#eating", page.QuerySelector(".outlook .likelihood a")!.GetAttribute("href"));
        Assert.NotNull(page.GetElementById("eating"));
        Assert.Contains("They say nothing of what is safe to eat.", page.QuerySelector(".likelihood")!.Read(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_chart_of_the_days_to_come_is_described_and_has_a_table_of_all_its_days()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync($"/beds/{Key(Invented.Young)}");
        var figures = page.QuerySelectorAll(".outlook figure").ToList();
        Assert.Equal(["chance-ahead", "moisture-ahead", "temperature-ahead"], figures.Select(figure => figure.Id));
        foreach (var figure in figures)
        {
            var pictures = figure.QuerySelectorAll("svg[role=img]");
            Assert.Equal(2, pictures.Length);
            foreach (var picture in pictures)
            {
                Assert.Equal(figure.QuerySelector("figcaption p")!.Read(), picture.QuerySelector("desc")!.Read());
                Assert.DoesNotMatch("NaN|∞|Infinity", picture.OuterHtml);
                Assert.Equal(picture.QuerySelector("line.past-years")!.GetAttribute("x1"), EndOfHatch(picture));
            }

            Assert.Equal(120, figure.QuerySelectorAll("tbody tr").Length);
            Assert.Equal(10, figure.QuerySelectorAll("tbody tr.forecast").Length);
        }
    }

    [Fact]
    public async Task Lines_of_chance_carry_their_names_apart_from_each_other()
    {
        var outlook = await OutlookAsync(Invented.Young);
        foreach (var picture in outlook.QuerySelectorAll("#chance-ahead svg[role=img]"))
        {
            var names = picture.QuerySelectorAll(".line-name").OrderBy(name => Number(name, "y")).ToList();
            Assert.Equal(["Harvest", "Needs water", "Pins"], names.Select(HtmlPage.Read).Order());
            for (var i = 1; i < names.Count; i++)
                Assert.True(Number(names[i], "y") - Number(names[i - 1], "y") >= 14.9);
            Assert.Equal(["chance-pins", "chance-harvest", "chance-dry"], picture.QuerySelectorAll("path[class^=chance-]").Select(line => line.ClassName));
        }
    }

    [Fact]
    public async Task The_head_of_the_page_tells_the_window_of_the_futures()
    {
        using var browser = running.Service.Client();
        var facts = (await browser.OpenAsync($"/beds/{Key(Invented.Straw)}")).QuerySelectorAll(".now .facts > div").Select(HtmlPage.Read);

        Assert.Single(facts, fact => HarvestFact().IsMatch(fact));
    }

    [Fact]
    public async Task A_bed_without_an_outlook_says_why()
    {
        var outlook = await OutlookAsync(Invented.Later);

        Assert.Equal("Outlook The bed is still to be made. Its outlook begins on that day.", outlook.Read());
    }

    [GeneratedRegex("^Harvestfrom 17 October on; [0-9]+ % by 23 October$")]
    private static partial Regex HarvestFact();

    private static string EndOfHatch(IElement picture)
    {
        var ahead = picture.QuerySelector("rect.ahead")!;
        return (Number(ahead, "x") + Number(ahead, "width")).ToString("0.#", CultureInfo.InvariantCulture);
    }

    private static double Number(IElement element, string attribute) => double.Parse(element.GetAttribute(attribute)!, CultureInfo.InvariantCulture);

    private static List<string> Heads(IElement outlook, string table) =>
        [.. outlook.QuerySelectorAll($"table[aria-labelledby={table}] thead th").Select(HtmlPage.Read)];

    private static List<IElement> Rows(IElement outlook, string table) => [.. outlook.QuerySelectorAll($"table[aria-labelledby={table}] tbody tr")];

    private async Task<IElement> OutlookAsync(long bed)
    {
        using var browser = running.Service.Client();
        return (await browser.OpenAsync($"/beds/{Key(bed)}")).QuerySelector("section.outlook")!;
    }

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
