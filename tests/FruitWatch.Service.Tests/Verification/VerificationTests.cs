using System.Globalization;
using System.Net;
using System.Text.Json;
using FruitWatch.Service.Log;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Verification;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Verification;

public sealed class VerificationTests(OneService running) : IClassFixture<OneService>
{
    private InventedCooperative Invented => running.Service.Invented;

    /// <summary>
    /// The straw ring's outlooks of 1 September to 8 October, pins seen on 9 October: 30 mornings said 4 of 64 and were right, two said
    /// 48 too early, six said 48 in time.
    /// </summary>
    [Fact]
    public async Task Scores_are_those_worked_out_by_hand()
    {
        var bed = await GroupAsync($"bedId={Key(Invented.Straw)}", "bed");
        var scores = bed.GetProperty("scores");

        Assert.Equal("Straw ring", bed.GetProperty("name").GetString());
        Assert.False(bed.GetProperty("tooEarly").GetBoolean());
        Assert.Equal((38, 6), (Whole(scores, "cases"), Whole(scores, "pins")));
        Assert.Equal((6, 0, 2, 30), (Whole(scores, "hits"), Whole(scores, "misses"), Whole(scores, "falseAlarms"), Whole(scores, "correctNegatives")));
        var (high, low) = (48.5 / 65, 4.5 / 65);
        var brier = (6 * (1 - high) * (1 - high) + 2 * high * high + 30 * low * low) / 38;
        Assert.Equal(brier, scores.GetProperty("brier").GetDouble(), 1e-12);
        // The rule expected pins on eleven mornings, of which six were right.
        Assert.Equal(1 - brier / (5.0 / 38), Score(scores, "skillOverRuleOfThumb"), 1e-12);
        Assert.Equal(1 - brier / (11.0 / 38 * (6.0 / 11) * (5.0 / 11)), Score(scores, "skillOverRuleAsFrequency"), 1e-12);
        // One season: nothing is usual yet, and no range can be given.
        Assert.Equal(JsonValueKind.Null, scores.GetProperty("skillOverClimatology").GetProperty("value").ValueKind);
        Assert.Equal(JsonValueKind.Null, scores.GetProperty("skillOverRuleOfThumbRange").ValueKind);
        // Warned from 1 October on.
        Assert.Equal(8, Score(scores, "leadDays"));
        Assert.Equal(1, Whole(scores.GetProperty("leadDays"), "cases"));
        var class7 = scores.GetProperty("reliability")[7];
        Assert.Equal((8, 0.75), (Whole(class7, "cases"), class7.GetProperty("frequency").GetDouble()));
        Assert.Equal(10, scores.GetProperty("reliability").GetArrayLength());
    }

    [Fact]
    public async Task The_score_of_the_date_sums_the_squared_distance_over_the_days_of_the_outlook()
    {
        var scores = (await GroupAsync($"bedId={Key(Invented.Straw)}", "bed")).GetProperty("scores");

        // Of each morning: before the pins the share of futures with pins, from then on the share without.
        var sum = 0.0;
        for (var on = new LocalDate(2026, 9, 1); on <= new LocalDate(2026, 10, 8); on = on.PlusDays(1))
        {
            var share = (on >= new LocalDate(2026, 10, 1) ? 48 : 4) / 64.0;
            var before = Math.Min(40, Period.DaysBetween(on, new LocalDate(2026, 10, 9)));
            sum += before * share * share + (40 - before) * (1 - share) * (1 - share);
        }

        Assert.Equal(sum / 38, Score(scores, "dateCrps"), 1e-9);
    }

    [Theory]
    [InlineData("3", 2, 6)] // said from 1 October on; right from the 7th
    [InlineData("14", 8, 0)]
    [InlineData("30", 8, 0)]
    public async Task Another_lead_asks_about_other_days(string lead, int hits, int falseAlarms)
    {
        var scores = (await GroupAsync($"bedId={Key(Invented.Straw)}&lead={lead}", "bed")).GetProperty("scores");

        Assert.Equal((hits, falseAlarms), (Whole(scores, "hits"), Whole(scores, "falseAlarms")));
    }

    [Fact]
    public async Task What_nobody_looked_at_is_counted_and_too_few_answers_are_said_to_be_too_few()
    {
        var bed = await GroupAsync($"bedId={Key(Invented.Hazels)}", "bed");

        Assert.True(bed.GetProperty("tooEarly").GetBoolean());
        var forecasts = bed.GetProperty("forecasts");
        Assert.Equal((5, 0, 5), (Whole(forecasts, "issued"), Whole(forecasts, "answered"), Whole(forecasts, "unanswered")));
        Assert.Equal(
            ["Too early to tell: 0 forecasts have an answer so far, and 20 are needed.", "5 forecasts have no answer: nobody noted pins, nor a look that found none."],
            Words(bed));
    }

    [Fact]
    public async Task Words_say_the_same_in_the_language_asked_for()
    {
        var bed = await GroupAsync($"bedId={Key(Invented.Straw)}", "bed");
        Assert.Equal("Of 8 forecasts that said pins were likely within 7 days, 6 were followed by pins.", Words(bed)[0]);
        Assert.Equal("Of 30 forecasts that said they were not, 0 were followed by pins all the same.", Words(bed)[1]);
        Assert.Equal("Pins that were announced had their first warning 8 days before on average (1 time).", Words(bed)[2]);

        var spanish = await GroupAsync($"bedId={Key(Invented.Straw)}", "bed", "es");
        Assert.Equal("De 8 pronósticos que daban primordios por probables en 7 días, 6 fueron seguidos de ellos.", Words(spanish)[0]);
        Assert.Equal("Estrofaria rugosa (seta del vino)", (await GroupAsync("speciesKey=wine-cap", "species", "es")).GetProperty("name").GetString());
    }

    [Fact]
    public async Task Groups_are_of_the_beds_asked_for()
    {
        var all = await GroupsAsync("");
        Assert.Contains(all, group => Is(group, "bed", Invented.Straw));
        Assert.Contains(all, group => Is(group, "bed", Invented.Hazels));
        Assert.Contains(all, group => Is(group, "site", Invented.AlderLane));

        var hazels = await GroupsAsync($"bedId={Key(Invented.Hazels)}");
        Assert.Equal(["cooperative", "site", "species", "bed"], hazels.Select(group => group.GetProperty("by").GetString()));
        Assert.All(hazels, group => Assert.Equal(5, Whole(group.GetProperty("forecasts"), "issued")));

        var straw = await GroupsAsync($"siteId={Key(Invented.AlderLane)}&speciesKey=wine-cap");
        Assert.All(straw, group => Assert.Equal(38, Whole(group.GetProperty("forecasts"), "issued")));
        Assert.Empty(await GroupsAsync($"siteId={Key(Invented.MillField)}"));
    }

    [Theory]
    [InlineData("lead=5", "lead")]
    [InlineData("lead=seven", "lead")]
    [InlineData("siteId=straw", "siteId")]
    [InlineData("bedId=-1", "bedId")]
    [InlineData("speciesKey=toadstool", "speciesKey")]
    public async Task What_cannot_be_asked_is_refused_by_its_field(string query, string field)
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.GetAsync($"/api/v1/verification?{query}");

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal([field], answer.Refused);
    }

    [Fact]
    public async Task Mornings_on_which_there_was_nothing_to_wait_for_or_nothing_was_said_are_told_apart()
    {
        await using var store = running.Service.Store();
        var (bed, day) = (await BedAsync("Told apart"), new LocalDate(2026, 5, 1));
        store.Outlooks.AddRange(
            KeptOutlooks.Row(bed, day, 40, phase: "growing"),
            KeptOutlooks.Row(bed, day.PlusDays(1), 40, phase: "picking"),
            KeptOutlooks.Row(bed, day.PlusDays(2), 0, phase: "spent"),
            // By evening it grows, but in the morning its pins were still to come.
            KeptOutlooks.Row(bed, day.PlusDays(3), 60, phase: "growing", pinsOn: day.PlusDays(3)),
            KeptOutlooks.Row(bed, day.PlusDays(4), null),
            KeptOutlooks.Row(bed, day.PlusDays(5), 40));
        var damaged = KeptOutlooks.Row(bed, day.PlusDays(6), 40);
        damaged.Payload = damaged.Payload[..40];
        store.Outlooks.Add(damaged);
        store.LogEntries.AddRange(Log(bed, day.PlusDays(3), LogKinds.Pins), Log(bed, day.PlusDays(20), LogKinds.NoPins));
        await store.SaveChangesAsync();

        var forecasts = (await GroupAsync($"bedId={Key(bed)}", "bed")).GetProperty("forecasts");

        Assert.Equal(7, Whole(forecasts, "issued"));
        Assert.Equal((2, 0), (Whole(forecasts, "answered"), Whole(forecasts, "unanswered")));
        Assert.Equal((3, 2), (Whole(forecasts, "notWaiting"), Whole(forecasts, "withoutChance")));
    }

    [Fact]
    public async Task An_entry_that_was_undone_answers_nothing()
    {
        await using var store = running.Service.Store();
        var (bed, day) = (await BedAsync("Undone"), new LocalDate(2026, 5, 1));
        var pins = Log(bed, day.PlusDays(3), LogKinds.Pins);
        store.Outlooks.Add(KeptOutlooks.Row(bed, day, 40));
        store.LogEntries.Add(pins);
        await store.SaveChangesAsync();
        Assert.Equal(1, Whole((await GroupAsync($"bedId={Key(bed)}", "bed")).GetProperty("forecasts"), "answered"));

        pins.UndoneAt = InventedCooperative.Now;
        await store.SaveChangesAsync();

        Assert.Equal(1, Whole((await GroupAsync($"bedId={Key(bed)}", "bed")).GetProperty("forecasts"), "unanswered"));
    }

    /// <summary>Two beds of one species at one site: what is usual comes from both, and from other seasons only.</summary>
    [Fact]
    public async Task What_is_usual_comes_from_the_sites_other_seasons_of_that_species()
    {
        await using var store = running.Service.Store();
        var (one, other) = (await BedAsync("Usual one", "shiitake"), await BedAsync("Usual other", "shiitake"));
        foreach (var (bed, year, pins) in new[] { (one, 2025, 5), (other, 2026, 30) })
        {
            var first = new LocalDate(year, 6, 1);
            store.Outlooks.AddRange(Enumerable.Range(0, 20).Select(i => KeptOutlooks.Row(bed, first.PlusDays(i), 16)));
            store.LogEntries.Add(Log(bed, first.PlusDays(pins), LogKinds.Pins));
            store.LogEntries.Add(Log(bed, first.PlusDays(60), LogKinds.NoPins));
        }

        await store.SaveChangesAsync();
        var report = await ForecastReport.MakeAsync(store, new ForecastsAsked(BedId: other), 7, CancellationToken.None);
        var scores = Assert.Single(report.By(GroupedBy.Bed)).Scores;

        // In 2025 pins followed six of twenty mornings; in 2026 none came in time, so the calendar's score is 0.3².
        Assert.Equal((20, 0), (scores.Cases, scores.Pins));
        Assert.Equal(20, scores.SkillOverClimatology.Cases);
        Assert.Equal(1 - 16.5 / 65 * (16.5 / 65) / 0.09, Assert.NotNull(scores.SkillOverClimatology.Value), 1e-12);
    }

    [Fact]
    public async Task Any_number_of_beds_takes_three_queries()
    {
        await using (var store = running.Service.Store())
        {
            for (var i = 0; i < 12; i++)
                store.Outlooks.Add(KeptOutlooks.Row(await BedAsync($"Counted {i}"), new LocalDate(2026, 5, 1), 10));
            await store.SaveChangesAsync();
        }

        await using var reading = running.Service.Store();
        using var queries = new QueryCount(reading);
        var report = await ForecastReport.MakeAsync(reading, new ForecastsAsked(), 7, CancellationToken.None);

        Assert.True(report.By(GroupedBy.Bed).Count() >= 14);
        Assert.Equal(3, queries.Count);
    }

    private async Task<long> BedAsync(string name, string species = "elm-oyster")
    {
        await using var store = running.Service.Store();
        var bed = new Bed { SiteId = Invented.AlderLane, Name = name, SpeciesKey = species, Area = 1, InoculatedOn = new LocalDate(2025, 3, 1) };
        store.Beds.Add(bed);
        await store.SaveChangesAsync();
        return bed.Id;
    }

    private static LogEntry Log(long bed, LocalDate on, string kind) => new() { BedId = bed, On = on, Kind = kind, RecordedAt = InventedCooperative.Now };

    private async Task<IReadOnlyList<JsonElement>> GroupsAsync(string query, string language = "en")
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.GetAsync($"/api/v1/verification?{query}", ("Accept-Language", language));
        Assert.Equal(HttpStatusCode.OK, answer.Status);
        return [.. answer.Json.GetProperty("groups").EnumerateArray()];
    }

    private async Task<JsonElement> GroupAsync(string query, string by, string language = "en") =>
        (await GroupsAsync(query, language)).Single(group => group.GetProperty("by").GetString() == by);

    private static bool Is(JsonElement group, string by, long key) =>
        group.GetProperty("by").GetString() == by && group.GetProperty("key").GetString() == Key(key);

    private static string[] Words(JsonElement group) => [.. group.GetProperty("words").EnumerateArray().Select(sentence => sentence.GetString()!)];

    private static int Whole(JsonElement within, string name) => within.GetProperty(name).GetInt32();

    private static double Score(JsonElement scores, string name) => scores.GetProperty(name).GetProperty("value").GetDouble();

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
