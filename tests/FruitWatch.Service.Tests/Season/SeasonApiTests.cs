using System.Globalization;
using System.Net;
using System.Text.Json;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Tests.Api;
using NodaTime.Text;

namespace FruitWatch.Service.Tests.Season;

public sealed class SeasonApiTests(SeasonService running) : IClassFixture<SeasonService>
{
    [Fact]
    public async Task A_plan_tells_what_it_rests_on_and_has_every_species_with_52_weeks()
    {
        using var api = new ApiClient(running.Service);
        var plan = (await api.GetAsync(running.Plan)).Json;
        Assert.Equal("2022-01-01", plan.GetProperty("firstDay").GetString());
        // The day before today: no forecast belongs to it.
        Assert.Equal("2026-10-13", plan.GetProperty("lastDay").GetString());
        var pattern = plan.GetProperty("pattern");
        Assert.Equal((0.15, 0.5), (pattern.GetProperty("depthM").GetDouble(), pattern.GetProperty("shade").GetDouble()));
        Assert.Equal(BedCatalogue.BuiltIn.Species.Keys, plan.GetProperty("species").EnumerateArray().Select(s => s.GetProperty("speciesKey").GetString()));
        Assert.All(plan.GetProperty("species").EnumerateArray(), species =>
        {
            Assert.Equal(Enumerable.Range(1, 52), species.GetProperty("weeks").EnumerateArray().Select(week => week.GetProperty("week").GetInt32()));
            Assert.Equal(12, species.GetProperty("pinsByMonth").GetArrayLength());
        });
    }

    [Fact]
    public async Task A_week_counts_its_years_its_picks_and_its_failures()
    {
        using var api = new ApiClient(running.Service);
        var weeks = (await api.GetAsync(running.Plan)).Json.GetProperty("species").EnumerateArray()
            .SelectMany(species => species.GetProperty("weeks").EnumerateArray()).ToList();
        // From 1 January 2022 to 13 October 2026: runs of 500 days from 2022, 2023, 2024 and, up to June, 2025.
        Assert.Equal([3, 4], weeks.Select(Years).Distinct().Order());
        Assert.All(weeks, week =>
        {
            var (k, n) = (week.GetProperty("picked").GetInt32(), Years(week));
            Assert.Equal((k + 0.5) / (n + 1), week.GetProperty("chance").GetDouble(), 1e-4);
            Assert.Equal(n - k, week.GetProperty("failures").EnumerateArray().Sum(failure => failure.GetProperty("years").GetInt32()));
        });
        Assert.Contains(weeks, week => week.GetProperty("picked").GetInt32() > 0);
        Assert.Contains(weeks, week => week.GetProperty("failures").GetArrayLength() > 0);

        static int Years(JsonElement week) => week.GetProperty("years").GetInt32();
    }

    [Fact]
    public async Task Dates_are_those_of_the_start_that_comes_next()
    {
        using var api = new ApiClient(running.Service);
        var weeks = (await api.GetAsync(running.Plan + "?species=wine-cap")).Json.GetProperty("species")[0].GetProperty("weeks").EnumerateArray().ToList();
        // Today is 14 October 2026; week 41 starts on 8 October, week 42 on the 15th.
        Assert.Equal(("10-08", "2027-10-08"), (weeks[40].GetProperty("start").GetString(), weeks[40].GetProperty("comingStart").GetString()));
        Assert.Equal(("10-15", "2026-10-15"), (weeks[41].GetProperty("start").GetString(), weeks[41].GetProperty("comingStart").GetString()));
        foreach (var week in weeks.Where(week => week.GetProperty("daysToFirstPick").GetProperty("p50").ValueKind == JsonValueKind.Number))
        {
            var start = LocalDatePattern.Iso.Parse(week.GetProperty("comingStart").GetString()!).Value;
            var half = LocalDatePattern.Iso.Parse(week.GetProperty("firstPick").GetProperty("p50").GetString()!).Value;
            Assert.Equal(start.PlusDays(week.GetProperty("daysToFirstPick").GetProperty("p50").GetInt32()), half);
        }
    }

    [Theory]
    [InlineData("?species=wine-cap&species=elm-oyster")]
    [InlineData("?species=wine-cap,elm-oyster")]
    [InlineData("?species=elm-oyster, wine-cap,&species=wine-cap")]
    public async Task Species_are_asked_for_again_and_again_or_with_commas(string query)
    {
        using var api = new ApiClient(running.Service);
        Assert.Equal(
            ["elm-oyster", "wine-cap"],
            (await api.GetAsync(running.Plan + query)).Json.GetProperty("species").EnumerateArray().Select(s => s.GetProperty("speciesKey").GetString()));
    }

    [Fact]
    public async Task Another_bed_gives_another_plan()
    {
        using var api = new ApiClient(running.Service);
        var usual = (await api.GetAsync(running.Plan + "?species=wine-cap")).Json;
        var other = (await api.GetAsync(running.Plan + "?species=wine-cap&material=cereal-straw&depthM=0.3&shade=0&mulchCm=5&mulch=shredded-leaves&cover=sheet")).Json;
        var pattern = other.GetProperty("pattern");
        Assert.Equal("cereal-straw", pattern.GetProperty("materialKey").GetString());
        Assert.Equal(0.3, pattern.GetProperty("depthM").GetDouble());
        Assert.Equal(0, pattern.GetProperty("shade").GetDouble());
        Assert.Equal((5, "shredded-leaves"), (pattern.GetProperty("mulchCm").GetDouble(), pattern.GetProperty("mulchMaterialKey").GetString()));
        Assert.Equal("sheet", pattern.GetProperty("cover").GetString());
        Assert.Equal(("hardwood-chips", "cereal-straw"), (Species(usual).GetProperty("materialKey").GetString(), Species(other).GetProperty("materialKey").GetString()));
        Assert.NotEqual(Species(usual).GetProperty("weeks").GetRawText(), Species(other).GetProperty("weeks").GetRawText());

        static JsonElement Species(JsonElement plan) => plan.GetProperty("species")[0];
    }

    [Fact]
    public async Task Too_little_history_is_an_answer_that_says_what_is_missing_and_how_to_add_it()
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.GetAsync(string.Create(CultureInfo.InvariantCulture, $"/api/v1/sites/{running.Service.Invented.AlderLane}/season"));
        Assert.Equal(HttpStatusCode.OK, answer.Status);
        var note = answer.Json.GetProperty("notes").EnumerateArray().Single(note => note.GetProperty("code").GetString() == "no-whole-run");
        Assert.Equal([240, 500], note.GetProperty("numbers").EnumerateArray().Select(number => number.GetInt32()));
        Assert.Contains("240 days", note.GetProperty("text").GetString(), StringComparison.Ordinal);
        Assert.Contains("hand in a file of past years' daily weather", note.GetProperty("text").GetString(), StringComparison.Ordinal);
        var species = answer.Json.GetProperty("species")[0];
        Assert.Equal("not-known", species.GetProperty("fit").GetString());
        Assert.Empty(species.GetProperty("bestWeeks").EnumerateArray());
        var week = species.GetProperty("weeks")[0];
        Assert.Equal((0, JsonValueKind.Null), (week.GetProperty("years").GetInt32(), week.GetProperty("chance").ValueKind));
        Assert.Equal(JsonValueKind.Null, week.GetProperty("litresPerM2").ValueKind);
    }

    [Theory]
    [InlineData("?species=fly-agaric", "species")]
    [InlineData("?species=wine-cap,fly-agaric", "species")]
    [InlineData("?material=concrete", "material")]
    [InlineData("?depthM=0.01", "depthM")]
    [InlineData("?depthM=1.01", "depthM")]
    [InlineData("?depthM=deep", "depthM")]
    [InlineData("?depthM=NaN", "depthM")]
    [InlineData("?depthM=0,2", "depthM")]
    [InlineData("?depthM=0.1&depthM=0.2", "depthM")]
    [InlineData("?shade=1.5", "shade")]
    [InlineData("?shade=-0.1", "shade")]
    [InlineData("?mulchCm=51&mulch=cereal-straw", "mulchCm")]
    [InlineData("?mulchCm=3", "mulch")]
    [InlineData("?mulchCm=3&mulch=concrete", "mulch")]
    [InlineData("?cover=tarpaulin", "cover")]
    [InlineData("?cover=1", "cover")]
    [InlineData("?depth=0.2", "depth")]
    public async Task A_bed_that_cannot_be_is_refused_by_field(string query, string field)
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.GetAsync(running.Plan + query);
        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal("application/problem+json", answer.Form);
        Assert.Equal("urn:fruitwatch:problem:fields", answer.Json.GetProperty("type").GetString());
        Assert.Equal([field], answer.Refused);
    }

    [Fact]
    public async Task All_wrong_fields_are_told_at_once_and_what_would_do()
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.GetAsync(running.Plan + "?species=x&material=y&depthM=9&shade=9&mulchCm=9&cover=z");
        Assert.Equal(["cover", "depthM", "material", "mulch", "shade", "species"], answer.Refused.Order());
        Assert.Contains("hardwood-chips", answer.Json.GetProperty("errors").GetProperty("material")[0].GetString(), StringComparison.Ordinal);
        Assert.Equal("Give a number from 0.02 to 1\u00a0m.", answer.Json.GetProperty("errors").GetProperty("depthM")[0].GetString());
    }

    [Fact]
    public async Task A_site_that_is_not_there_is_not_found()
    {
        using var api = new ApiClient(running.Service);
        Assert.Equal(HttpStatusCode.NotFound, (await api.GetAsync("/api/v1/sites/999/season")).Status);
    }
}
