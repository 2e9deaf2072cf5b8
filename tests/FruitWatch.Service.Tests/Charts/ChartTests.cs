using System.Globalization;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.Charts;

public sealed class ChartTests(OneService running) : IClassFixture<OneService>
{
    private string Straw => string.Create(CultureInfo.InvariantCulture, $"/beds/{running.Service.Invented.Straw}");

    [Fact]
    public async Task Every_chart_is_one_picture_with_title_and_description_at_each_size_and_a_table_of_the_same_days()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(Straw);
        var figures = page.QuerySelectorAll(".charts figure").ToList();
        Assert.Equal(["weather", "moisture", "temperature", "progress"], figures.Select(figure => figure.Id));
        foreach (var figure in figures)
        {
            var pictures = figure.QuerySelectorAll("svg[role=img]");
            Assert.Equal(2, pictures.Length);
            foreach (var picture in pictures)
            {
                var names = picture.GetAttribute("aria-labelledby")!.Split(' ').Select(id => page.GetElementById(id)!).ToList();
                Assert.Equal(["title", "desc"], names.Select(name => name.LocalName));
                Assert.Equal(figure.QuerySelector("figcaption p")!.Read(), names[1].Read());
                Assert.DoesNotMatch("NaN|∞|Infinity", picture.OuterHtml);
            }

            Assert.Equal(100, figure.QuerySelectorAll("tbody tr").Length);
            Assert.Equal(10, figure.QuerySelectorAll("tbody tr.forecast").Length);
            Assert.Equal("2026-07-16", figure.QuerySelector("tbody time")!.GetAttribute("datetime"));
        }
    }

    [Fact]
    public async Task The_descriptions_carry_the_numbers_of_the_account()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(Straw);
        string Said(string key) => page.QuerySelector($"#{key} figcaption p")!.Read();
        string Cell(string key, int column) => page.QuerySelectorAll($"#{key} tbody tr").Single(row => row.QuerySelector("time")!.TextContent == "2026-10-14").QuerySelectorAll("td")[column].Read();

        Assert.Contains($"the bed is at {Cell("moisture", 0)} of what it can hold; its mark for watering is {Cell("moisture", 1)}", Said("moisture"), StringComparison.Ordinal);
        Assert.Contains($"phase {Cell("progress", 0)}, spawn run {Cell("progress", 1)}, score {Cell("progress", 2)} of 100", Said("progress"), StringComparison.Ordinal);
        Assert.Contains("Pins form best at 10 to 20 °C", Said("temperature"), StringComparison.Ordinal);
        Assert.Matches("^In the 90 days before today: -?[0-9]+ °C to [0-9]+ °C and [0-9]+ mm of rain. Forecast for 10 days from today: ", Said("weather"));
    }

    [Fact]
    public async Task The_forecast_is_hatched_and_named_and_begins_today()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(Straw);
        foreach (var picture in page.QuerySelectorAll(".charts svg.chart[role=img]"))
        {
            var ahead = picture.QuerySelector("rect.ahead")!;
            var today = picture.QuerySelector("line.today")!;
            Assert.Equal(today.GetAttribute("x1"), ahead.GetAttribute("x"));
            Assert.Equal("forecast", picture.QuerySelector(".ahead-label")!.TextContent);
        }
    }

    [Fact]
    public async Task Another_stretch_is_shown_where_it_is_asked_for()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(Straw + "?from=2026-09-01&to=2026-09-30");
        Assert.Equal(30, page.QuerySelectorAll("#moisture tbody tr").Length);
        Assert.Empty(page.QuerySelectorAll(".charts rect.ahead, .charts line.today"));
        Assert.StartsWith("In the 30 days before today:", page.QuerySelector("#weather figcaption p")!.Read(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("?from=yesterday")]
    [InlineData("?from=2026-10-10&to=2026-10-01")]
    [InlineData("?from=1900-01-01&to=2026-10-01")]
    [InlineData("?from=2030-01-01&to=2030-02-01")]
    [InlineData("?to=1990-01-01")]
    public async Task A_stretch_that_cannot_be_is_told_and_the_last_months_are_shown(string query)
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(Straw + query);
        Assert.NotEmpty(page.QuerySelector(".charts .warn")!.Read());
        Assert.Equal(100, page.QuerySelectorAll("#weather tbody tr").Length);
    }

    [Fact]
    public async Task A_bed_without_an_account_still_shows_its_weather()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(string.Create(CultureInfo.InvariantCulture, $"/beds/{running.Service.Invented.Later}"));
        Assert.Equal("weather", Assert.Single(page.QuerySelectorAll("figure")).Id);
    }
}
