using System.Globalization;
using System.Net;
using System.Text.Json;
using FruitWatch.Service.Tests.Pages;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;
using NodaTime.Text;

namespace FruitWatch.Service.Tests.Api;

public sealed class OutlookTests(OneService running) : IClassFixture<OneService>
{
    private InventedCooperative Invented => running.Service.Invented;

    [Fact]
    public async Task An_outlook_says_how_many_futures_it_has_and_where_they_come_from()
    {
        var outlook = await OutlookAsync(Invented.Young);

        Assert.Equal(64, outlook.GetProperty("members").GetInt32());
        Assert.Equal(120, outlook.GetProperty("days").GetInt32());
        Assert.Equal("2027-02-10", outlook.GetProperty("lastDay").GetString());
        Assert.Equal("dressed", outlook.GetProperty("source").GetString());
        Assert.Equal("2026-10-23", outlook.GetProperty("lastForecastDay").GetString());
        Assert.Equal([2023, 2024, 2025], outlook.GetProperty("pastYears").EnumerateArray().Select(year => year.GetInt32()));
        Assert.False(outlook.GetProperty("short").GetBoolean());
        var note = Assert.Single(outlook.GetProperty("notes").EnumerateArray());
        Assert.Equal("few-years", note.GetProperty("code").GetString());
        Assert.Equal(3, Assert.Single(note.GetProperty("numbers").EnumerateArray()).GetInt32());
        Assert.StartsWith("3 past years are few", note.GetProperty("text").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Counts_never_fall_and_the_chance_and_the_days_of_one_five_and_nine_in_ten_follow_from_them()
    {
        foreach (var bed in new[] { Invented.Straw, Invented.Young, Invented.Hazels })
        {
            var outlook = await OutlookAsync(bed);
            var (days, members) = (outlook.GetProperty("days").GetInt32(), outlook.GetProperty("members").GetInt32());
            foreach (var name in new[] { "pins", "harvest", "needsWater", "tooWet", "frostTrigger" })
            {
                var happening = outlook.GetProperty(name);
                if (happening.ValueKind == JsonValueKind.Null)
                    continue;
                var counts = happening.GetProperty("count").EnumerateArray().Select(k => k.GetInt32()).ToList();
                var chances = happening.GetProperty("chance").EnumerateArray().Select(c => c.GetDouble()).ToList();
                Assert.Equal((days, days), (counts.Count, chances.Count));
                Assert.Equal(counts.Order(), counts);
                Assert.InRange(counts[^1], 0, members);
                Assert.All(counts.Zip(chances), pair => Assert.Equal((pair.First + 0.5) / (members + 1), pair.Second, 0.00005 + 1e-9));
                foreach (var (field, share) in new[] { ("tenthBy", 0.1), ("halfBy", 0.5), ("nineTenthsBy", 0.9) })
                {
                    var day = counts.FindIndex(k => k >= share * members);
                    Assert.Equal(day < 0 ? null : LocalDatePattern.Iso.Format(InventedCooperative.Today.PlusDays(day)), happening.GetProperty(field).GetString());
                }
            }
        }
    }

    [Fact]
    public async Task Only_a_species_that_waits_for_frost_has_a_frost_to_tell_of()
    {
        Assert.Equal(JsonValueKind.Object, (await OutlookAsync(Invented.Hazels)).GetProperty("frostTrigger").ValueKind);
        Assert.Equal(JsonValueKind.Null, (await OutlookAsync(Invented.Straw)).GetProperty("frostTrigger").ValueKind);
    }

    [Fact]
    public async Task Ranges_are_in_order_on_every_day()
    {
        var outlook = await OutlookAsync(Invented.Young);
        foreach (var name in new[] { "moisture", "bedC" })
        {
            var (low, middle, high) = (Values("low"), Values("middle"), Values("high"));
            Assert.Equal(120, middle.Count);
            for (var day = 0; day < 120; day++)
                Assert.True(low[day] <= middle[day] && middle[day] <= high[day], $"{name}, day {day}: {low[day]} {middle[day]} {high[day]}");

            List<double> Values(string range) => [.. outlook.GetProperty(name).GetProperty(range).EnumerateArray().Select(value => value.GetDouble())];
        }
    }

    [Fact]
    public async Task Weeks_of_water_join_without_gap_and_cover_the_whole_outlook()
    {
        var weeks = (await OutlookAsync(Invented.Young)).GetProperty("waterByWeek").EnumerateArray().ToList();
        var next = InventedCooperative.Today;
        foreach (var week in weeks)
        {
            Assert.Equal(LocalDatePattern.Iso.Format(next), week.GetProperty("from").GetString());
            Assert.Equal(week.GetProperty("count").GetInt32() > 0, week.GetProperty("meanLitres").GetDouble() > 0);
            next = next.PlusDays(week.GetProperty("days").GetInt32());
        }

        Assert.Equal(InventedCooperative.Today.PlusDays(120), next);
    }

    [Fact]
    public async Task What_could_be_done_today_is_compared_with_leaving_the_bed_alone()
    {
        var outlook = await OutlookAsync(Invented.Young);
        var whatIf = outlook.GetProperty("whatIf");

        Assert.Equal("moisture", whatIf.GetProperty("counts").GetString());
        Assert.Equal("2026-10-27", whatIf.GetProperty("by").GetString());
        Assert.True(whatIf.GetProperty("litres").GetDouble() > 0);
        Assert.Equal("sheet", whatIf.GetProperty("coverThen").GetString());
        var (alone, watered) = (whatIf.GetProperty("leftAlone"), whatIf.GetProperty("watered"));
        Assert.Equal(JsonValueKind.Null, alone.GetProperty("verdict").ValueKind);
        Assert.Equal(outlook.GetProperty("pins").GetProperty("count")[13].GetInt32(), alone.GetProperty("pinsCount").GetInt32());
        Assert.True(watered.GetProperty("dryDays").GetDouble() < alone.GetProperty("dryDays").GetDouble());
        Assert.Equal("better", watered.GetProperty("verdict").GetString());
        Assert.True(whatIf.GetProperty("keptMoist").GetProperty("dryDays").GetDouble() < alone.GetProperty("dryDays").GetDouble());
    }

    [Fact]
    public async Task Without_past_years_it_ends_with_the_forecast_and_says_why()
    {
        var outlook = await OutlookAsync(Invented.Straw);

        Assert.True(outlook.GetProperty("short").GetBoolean());
        Assert.Equal(outlook.GetProperty("lastForecastDay").GetString(), outlook.GetProperty("lastDay").GetString());
        Assert.Equal(10, outlook.GetProperty("days").GetInt32());
        Assert.Equal("history-too-short", Assert.Single(outlook.GetProperty("notes").EnumerateArray()).GetProperty("code").GetString());
        Assert.Equal("2026-10-23", outlook.GetProperty("whatIf").GetProperty("by").GetString());
    }

    [Fact]
    public async Task A_bed_that_is_still_to_be_made_has_none_and_the_answer_says_so()
    {
        using var api = new ApiClient(running.Service);
        var answer = await api.GetAsync(Path(Invented.Later));

        Assert.Equal(HttpStatusCode.OK, answer.Status);
        Assert.Equal("not-yet-made", answer.Json.GetProperty("problem").GetString());
        Assert.StartsWith("The bed is still to be made.", answer.Json.GetProperty("problemText").GetString(), StringComparison.Ordinal);
        Assert.Equal(JsonValueKind.Null, answer.Json.GetProperty("outlook").ValueKind);
    }

    [Fact]
    public async Task A_bed_made_today_has_one()
    {
        using var api = new ApiClient(running.Service);
        var made = await api.SendAsync("POST", "/api/v1/beds", $$"""{"siteId":{{Key(Invented.MillField)}},"name":"Made today","speciesKey":"wine-cap","areaM2":2,"inoculatedOn":"2026-10-14","layers":[{"materialKey":"hardwood-chips","depthM":0.1}]}""");

        Assert.Equal(120, (await OutlookAsync(made.Json.GetProperty("id").GetInt64())).GetProperty("days").GetInt32());
    }

    /// <summary>Moments at which something that an outlook needs is not known.</summary>
    [Theory]
    [InlineData("2020-01-01T12:00:00Z", "no-weather")] // before all weather
    [InlineData("2026-10-24T06:30:00Z", "no-forecast")] // the forecast ended yesterday
    [InlineData("2026-12-24T06:30:00Z", "no-weather")] // nothing has been heard for two months
    public async Task What_is_missing_is_named(string now, string problem)
    {
        var clock = new FakeClock(InstantPattern.General.Parse(now).Value);
        await using var service = await TestService.StartAsync(services => services.AddSingleton<IClock>(clock));
        using var api = new ApiClient(service);
        var answer = await api.GetAsync(Path(service.Invented.Straw));

        Assert.Equal(HttpStatusCode.OK, answer.Status);
        Assert.Equal(problem, answer.Json.GetProperty("problem").GetString());
        Assert.NotEmpty(answer.Json.GetProperty("problemText").GetString()!);
        Assert.Equal(JsonValueKind.Null, answer.Json.GetProperty("outlook").ValueKind);
    }

    private async Task<JsonElement> OutlookAsync(long bed)
    {
        using var api = new ApiClient(running.Service);
        var body = (await api.GetAsync(Path(bed))).Json;
        Assert.Equal("none", body.GetProperty("problem").GetString());
        return body.GetProperty("outlook");
    }

    private static string Path(long bed) => $"/api/v1/beds/{Key(bed)}/outlook";

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
