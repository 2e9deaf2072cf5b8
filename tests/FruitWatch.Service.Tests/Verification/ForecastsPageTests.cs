using AngleSharp.Dom;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Verification;

public sealed class ForecastsPageTests(OneService running) : IClassFixture<OneService>
{
    [Fact]
    public async Task Plain_words_come_first_and_the_tables_have_the_same_numbers()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync("/forecasts");

        Assert.Equal("How good the forecasts were", page.QuerySelector("h1")!.Read());
        Assert.Equal("Of 8 forecasts that said pins were likely within 7 days, 6 were followed by pins.", page.QuerySelector(".said > li")!.Read());
        var tables = page.QuerySelectorAll("table.scores").ToList();
        Assert.Equal(3, tables.Count);
        string[] straw = ["38", "6", "6", "0", "2", "8 days", "–"];
        Assert.Equal(straw, Row(tables[0], "Wine cap").Take(7));
        Assert.Equal(straw, Row(tables[1], "Alder Lane").Take(7));
        Assert.Equal(straw, Row(tables[2], "Straw ring").Take(7));
        Assert.Equal(["0", "0", "0", "0", "0", "–", "too early to tell"], Row(tables[2], "Under the hazels"));
        Assert.Equal("page", page.QuerySelector("nav a[href='/forecasts']")!.GetAttribute("aria-current"));
    }

    [Fact]
    public async Task The_diagram_has_a_point_for_every_tenth_with_forecasts_and_a_table_of_all()
    {
        using var browser = running.Service.Client();
        var figure = (await browser.OpenAsync("/forecasts")).QuerySelector("figure.chart-figure")!;

        var pictures = figure.QuerySelectorAll("svg[role=img]");
        Assert.Equal(2, pictures.Length);
        foreach (var picture in pictures)
        {
            var points = picture.QuerySelectorAll("circle.came");
            Assert.Equal(2, points.Length);
            // Thirty forecasts make a larger point than eight, and one that came true less often lies lower.
            Assert.True(Number(points[0], "r") > Number(points[1], "r"));
            Assert.True(Number(points[0], "cy") > Number(points[1], "cy"));
            Assert.True(Number(points[0], "cx") < Number(points[1], "cx"));
            Assert.NotNull(picture.QuerySelector("path.as-said"));
            Assert.DoesNotMatch("NaN|∞|Infinity", picture.OuterHtml);
        }

        Assert.Equal("38 forecasts by their chance of pins. Of the 8 that said about 75 %, 75 % were followed by pins.", figure.QuerySelector("figcaption p")!.Read());
        Assert.Equal(10, figure.QuerySelectorAll("tbody tr").Length);
        Assert.Equal(["0 %", "30"], figure.QuerySelectorAll("tbody tr")[0].QuerySelectorAll("td").Select(cell => cell.Read()));
    }

    [Theory]
    [InlineData("/forecasts?lead=14", "/forecasts?lead=14")]
    [InlineData("/forecasts?lead=99", "/forecasts?lead=7")]
    [InlineData("/forecasts", "/forecasts?lead=7")]
    public async Task The_lead_is_chosen_by_a_link_and_an_unknown_one_is_seven_days(string address, string chosen)
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(address);

        Assert.Equal(chosen, Assert.Single(page.QuerySelectorAll(".filter a[aria-current]")).GetAttribute("href"));
    }

    [Fact]
    public async Task It_speaks_Spanish_and_stands_beside_the_whole_caution()
    {
        using var browser = running.Service.Client();
        browser.Speak("es");
        var page = await browser.OpenAsync("/forecasts");

        Assert.Equal("De 8 pronósticos que daban primordios por probables en 7 días, 6 fueron seguidos de ellos.", page.QuerySelector(".said > li")!.Read());
        var text = page.Body!.Read();
        foreach (var key in new[] { "wine-cap", "wood-blewit" })
            Assert.All(Words.For("es").EatingCaution(BedCatalogue.BuiltIn.Species[key]), sentence => Assert.Contains(sentence, text, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Every_term_of_the_tables_is_explained_in_both_languages()
    {
        foreach (var words in Words.All)
        {
            using var browser = running.Service.Client();
            browser.Speak(words.Language);
            var page = await browser.OpenAsync("/forecasts");
            var terms = page.QuerySelectorAll("dl.terms dt").Select(term => term.Read()).ToList();

            Assert.Equal(8, terms.Count);
            var heads = page.QuerySelector("table.scores")!.QuerySelectorAll("thead th").Select(head => head.Read());
            Assert.Equal([words.VerificationPins], heads.Except(terms));
        }
    }

    private static IEnumerable<string> Row(IElement table, string name) =>
        table.QuerySelectorAll("tbody tr").Single(row => row.QuerySelector("th")!.Read() == name).QuerySelectorAll("td").Select(cell => cell.Read());

    private static double Number(IElement shape, string attribute) =>
        double.Parse(shape.GetAttribute(attribute)!, System.Globalization.CultureInfo.InvariantCulture);
}
