using FruitWatch.Service.Mornings;
using NodaTime;

namespace FruitWatch.Service.Tests.Mornings;

/// <summary>Against the tz database that NodaTime carries.</summary>
public sealed class LocalMorningTests
{
    private static readonly LocalTime s_six = new(6, 0);

    [Fact]
    public void Every_local_day_of_every_zone_from_2024_to_2030_has_exactly_one_morning()
    {
        foreach (var zone in DateTimeZoneProviders.Tzdb.Ids.Select(id => DateTimeZoneProviders.Tzdb[id]))
        {
            var before = Instant.MinValue;
            for (var day = new LocalDate(2024, 1, 1); day.Year <= 2030; day = day.PlusDays(1))
            {
                var morning = LocalMorning.Of(day, s_six, zone);
                Assert.True(morning > before, $"{zone.Id} {day}: not after the morning before");
                Assert.Equal(day, LocalMorning.Come(morning, s_six, zone));
                Assert.NotEqual(day, LocalMorning.Come(morning - Duration.Epsilon, s_six, zone));
                before = morning;
            }
        }
    }

    [Theory]
    // US rule since 2007 (Energy Policy Act of 2005): clocks go forward on the second Sunday of March at 02:00, back on the first of November.
    [InlineData("America/New_York", "2026-03-08", "02:30", "2026-03-08T07:00:00Z")]
    [InlineData("America/New_York", "2026-11-01", "01:30", "2026-11-01T05:30:00Z")]
    [InlineData("America/New_York", "2026-07-01", "06:00", "2026-07-01T10:00:00Z")]
    // Lord Howe changes by half an hour (tz database, file australasia).
    [InlineData("Australia/Lord_Howe", "2026-10-04", "02:15", "2026-10-03T15:30:00Z")]
    public void A_morning_in_a_gap_is_its_end_and_a_repeated_one_its_first(string zone, string day, string at, string expected)
    {
        var morning = LocalMorning.Of(
            NodaTime.Text.LocalDatePattern.Iso.Parse(day).Value,
            NodaTime.Text.LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(at).Value,
            DateTimeZoneProviders.Tzdb[zone]);

        Assert.Equal(NodaTime.Text.InstantPattern.General.Parse(expected).Value, morning);
    }

    [Fact]
    public void Before_its_morning_a_day_is_not_due()
    {
        var zone = DateTimeZoneProviders.Tzdb["America/Los_Angeles"];

        Assert.Null(LocalMorning.Come(LocalMorning.Of(new LocalDate(2026, 5, 1), new LocalTime(5, 59), zone), s_six, zone));
    }
}
