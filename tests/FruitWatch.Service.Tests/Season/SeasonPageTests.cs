using System.Globalization;
using System.Net;
using AngleSharp.Dom;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Season;

public sealed class SeasonPageTests(SeasonService running) : IClassFixture<SeasonService>
{
    [Fact]
    public async Task A_site_on_the_first_page_leads_to_its_plan()
    {
        using var browser = running.Service.Client();
        var link = (await browser.OpenAsync("/")).QuerySelector($"a[href='{running.Page}']")!;
        Assert.Equal("When to start a bed here: Orchard Bank", link.Read());
        Assert.Equal("When to start a bed here", (await browser.OpenAsync(link.GetAttribute("href")!)).QuerySelector("h1")!.Read());
    }

    [Fact]
    public async Task It_says_what_it_rests_on_and_how_fine_a_few_years_can_be()
    {
        using var browser = running.Service.Client();
        var basis = (await browser.OpenAsync(running.Page)).QuerySelector(".season-basis")!.Read();
        Assert.Contains("from 1 January 2022 to 13 October 2026; no forecast", basis, StringComparison.Ordinal);
        Assert.Contains("careful grower", basis, StringComparison.Ordinal);
        Assert.Contains("With 4 years the finest honest statement is one in 4", basis, StringComparison.Ordinal);
        Assert.Contains("Weather by the invented Hill Station", basis, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Each_species_that_was_picked_has_its_best_start_two_pictures_their_tables_and_what_failed()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(running.Page);
        var sections = page.QuerySelectorAll("section.season-species").ToList();
        Assert.NotEmpty(sections);
        Assert.Equal(page.QuerySelectorAll("ol.season-glance a").Select(a => a.GetAttribute("href")), sections.Select(section => "#" + section.Id));
        foreach (var section in sections)
        {
            Assert.Matches("[1-4] of [34] years", section.QuerySelector("p.fit")!.Read());
            Assert.Matches("^Start in the week of [0-9]+ [A-Z][a-z]+: [1-4] of [34] years gave a first pick within 12 months, (between|around) .*; [0-9]+ waterings?, [0-9]+ L/m²\\.$", section.QuerySelector(".best-start")!.Read());
            var figures = section.QuerySelectorAll("figure").ToList();
            Assert.Equal([52, 12], figures.Select(figure => figure.QuerySelectorAll("tbody tr").Length));
            foreach (var picture in figures.SelectMany(figure => figure.QuerySelectorAll("svg[role=img]")))
            {
                var names = picture.GetAttribute("aria-labelledby")!.Split(' ').Select(id => page.GetElementById(id)!).ToList();
                Assert.Equal(["title", "desc"], names.Select(name => name.LocalName));
                Assert.DoesNotMatch("NaN|∞|Infinity|-[0-9.]+\" (width|height)", picture.OuterHtml);
            }

            Assert.Equal(52, figures[0].QuerySelectorAll("svg.wide rect.week").Length);
            Assert.Matches("of the [0-9]+ beds tried|None of the [0-9]+ beds tried", section.Read());
        }
    }

    [Fact]
    public async Task The_tables_say_the_same_as_the_api()
    {
        using var browser = running.Service.Client();
        using var api = new ApiClient(running.Service);
        var rows = (await browser.OpenAsync(running.Page + "?species=wine-cap")).QuerySelectorAll("#weeks-wine-cap tbody tr").ToList();
        var weeks = (await api.GetAsync(running.Plan + "?species=wine-cap")).Json.GetProperty("species")[0].GetProperty("weeks").EnumerateArray().ToList();
        foreach (var (row, week) in rows.Zip(weeks))
        {
            var cells = row.QuerySelectorAll("td").Select(HtmlPage.Read).ToList();
            Assert.Equal($"{week.GetProperty("picked")} of {week.GetProperty("years")} years", cells[0]);
            Assert.Equal(string.Create(CultureInfo.InvariantCulture, $"{Math.Round(100 * week.GetProperty("chance").GetDouble(), MidpointRounding.AwayFromZero)} %"), cells[1]);
            Assert.Equal(week.GetProperty("waterings").ToString(), cells[3]);
        }
    }

    [Fact]
    public async Task Weeks_without_a_pick_differ_in_shape_and_species_without_one_come_last_and_folded()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(running.Page);
        var folded = page.QuerySelector("details.season-never")!;
        Assert.False(folded.HasAttribute("open"));
        Assert.Null(folded.QuerySelector("figure"));
        var never = folded.QuerySelectorAll("article").Select(article => article.Id!).ToList();
        Assert.NotEmpty(never);
        Assert.Equal(13, never.Count + page.QuerySelectorAll("section.season-species").Length);
        Assert.True(page.QuerySelectorAll("section.season-species").All(section => section.CompareDocumentPosition(folded).HasFlag(DocumentPositions.Following)));
        // The model needs more than 12 months for shiitake whatever the weather: that is no verdict on the site.
        Assert.Contains("slow rather than unsuited", folded.QuerySelector("#shiitake")!.Read(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_picking_is_spoken_of_stands_the_whole_caution_with_the_lookalikes_of_each_species()
    {
        foreach (var words in Words.All)
        {
            using var browser = running.Service.Client();
            browser.Speak(words.Language);
            var page = await browser.OpenAsync(running.Page);
            var general = page.QuerySelector("section.eating")!.Read();
            Assert.All(words.SeasonEating, sentence => Assert.Contains(sentence, general, StringComparison.Ordinal));
            foreach (var section in page.QuerySelectorAll("section.season-species"))
            {
                var own = section.QuerySelector("details.caution")!.Read();
                Assert.All(words.EatingCaution(BedCatalogue.BuiltIn.Species[section.Id!]), sentence => Assert.Contains(sentence, own, StringComparison.Ordinal));
            }
        }
    }

    [Fact]
    public async Task A_bed_of_manure_brings_the_caution_of_manure()
    {
        using var browser = running.Service.Client();
        Assert.Contains("Raw manure", (await browser.OpenAsync(running.Page + "?material=composted-manure")).Body!.Read(), StringComparison.Ordinal);
        Assert.DoesNotContain("Raw manure", (await browser.OpenAsync(running.Page + "?material=hardwood-chips")).Body!.Read(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_form_keeps_what_was_asked()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(running.Page + "?species=wine-cap&material=cereal-straw&depthCm=22&shadePercent=80&mulchCm=4&mulch=leaf-mould&cover=sheet");
        Assert.Equal("22", page.GetElementById("depthCm")!.GetAttribute("value"));
        Assert.Equal("80", page.GetElementById("shadePercent")!.GetAttribute("value"));
        Assert.Equal("4", page.GetElementById("mulchCm")!.GetAttribute("value"));
        Assert.Equal(["cereal-straw", "leaf-mould", "sheet"], page.QuerySelectorAll(".season-form option[selected]").Select(option => option.GetAttribute("value")));
        Assert.Equal(["wine-cap"], page.QuerySelectorAll("input[name=species][checked]").Select(box => box.GetAttribute("value")));
        Assert.True(page.QuerySelector(".season-form details")!.HasAttribute("open"));
        Assert.Contains("Cereal straw, soaked and trodden, 22 cm", page.Body!.Read(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bed_that_cannot_be_is_told_at_its_field_in_the_language_of_the_page()
    {
        using var browser = running.Service.Client();
        browser.Speak("es");
        using var answer = await browser.GetAsync(running.Page + "?depthCm=900&mulchCm=3");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var page = await HtmlPage.ReadAsync(answer);
        Assert.StartsWith("Error:", page.Title, StringComparison.Ordinal);
        Assert.Equal("900", page.GetElementById("depthCm")!.GetAttribute("value"));
        Assert.Equal("true", page.GetElementById("depthCm")!.GetAttribute("aria-invalid"));
        Assert.Equal("Indicar un número de 2 a 100 cm.", page.GetElementById("depthCm-error")!.Read());
        Assert.Equal(["#depthCm", "#mulch"], page.QuerySelectorAll(".errors a").Select(a => a.GetAttribute("href")).Order());
        Assert.True(page.QuerySelector(".season-form details")!.HasAttribute("open"));
        Assert.Empty(page.QuerySelectorAll(".season-species, .season-basis"));
    }

    [Fact]
    public async Task Too_little_history_is_said_with_what_to_do_about_it()
    {
        using var browser = running.Service.Client();
        var page = await browser.OpenAsync(string.Create(CultureInfo.InvariantCulture, $"/sites/{running.Service.Invented.AlderLane}/season"));
        Assert.Contains("hand in a file of past years' daily weather", Assert.Single(page.QuerySelectorAll(".season-note")).Read(), StringComparison.Ordinal);
        Assert.Empty(page.QuerySelectorAll(".season-species, .season-never, figure"));
    }
}
