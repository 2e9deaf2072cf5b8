using NodaTime;

namespace FruitWatch.Feeds.Tests;

public sealed class ExplainTests
{
    private static readonly DateTimeZone London = DateTimeZoneProviders.Tzdb["Europe/London"];

    [Fact]
    public void A_day_of_hours_shows_every_hour_as_the_answer_had_it()
    {
        var day = Read("open-meteo-hourly", "open-meteo-hourly.json", new LocalDate(2026, 10, 24)).Days
            .Single(one => one.Date == new LocalDate(2026, 10, 25));
        // The day the clocks go back has 25 hours.
        Assert.Equal(25, day.Tmax!.Raw.Count);
        Assert.Equal(25, day.Rain!.Raw.Count);
        Assert.Equal("/hourly/temperature_2m/47", day.Tmax.Raw[0].Place);
        Assert.Equal("Cel", day.Tmax.Raw[0].Unit);
        Assert.Equal("1792882800", day.Tmax.Raw[0].Time);
    }

    [Fact]
    public void The_rise_of_a_counter_shows_the_readings_it_rests_on_each_once()
    {
        var counter = FeedPresets.Find("station-counter-csv")!;
        var body = "Time (UTC);Outdoor (F);Rain today (in)\n2026-05-02 03:00;50;0,30\n2026-05-02 04:00;50;0,40\n2026-05-02 05:00;50;0,05"u8.ToArray();
        var rain = FeedReader.Read(counter, body, Site, new LocalDate(2026, 5, 5), Instant.FromUtc(2026, 5, 5, 6, 0), explain: true).Days
            .Single().Rain!;
        Assert.Equal(
            [
                new RawValue("0,30", "[in_i]", "2026-05-02 03:00", "line 2, column Rain today (in)"),
                new RawValue("0,40", "[in_i]", "2026-05-02 04:00", "line 3, column Rain today (in)"),
                new RawValue("0,05", "[in_i]", "2026-05-02 05:00", "line 4, column Rain today (in)"),
            ],
            rain.Raw);
    }

    [Fact]
    public void Values_in_tenths_say_so() =>
        Assert.Equal(0.1, Read("ghcn-access-csv", "ghcn-access.csv", new LocalDate(2026, 5, 6)).Days[0].Tmax!.Raw.Single().Scale);

    [Fact]
    public void A_reading_that_is_not_asked_to_explain_itself_carries_nothing()
    {
        var reading = Samples.Read("open-meteo-hourly", "open-meteo-hourly.json", "Europe/London", "2026-10-24");
        Assert.All(reading.Days, day => Assert.Empty((day.Tmax ?? day.Tmin ?? day.Rain)!.Raw));
    }

    private static FeedSite Site => new(51.02, -2.98, 14, London);

    private static FeedReading Read(string preset, string sample, LocalDate today) =>
        FeedReader.Read(
            FeedPresets.Find(preset)!, File.ReadAllBytes(Samples.PathOf(sample)), Site, today,
            today.At(new LocalTime(6, 0)).InZoneLeniently(London).ToInstant(), explain: true);
}
