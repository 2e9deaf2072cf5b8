using FruitWatch.Service.Mornings;
using FruitWatch.Service.Tests.Digests;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Mornings;

/// <summary>Hours of rest across midnight and changes of the clock.</summary>
public sealed class QuietHoursTests
{
    [Theory]
    [MemberData(nameof(OwnHourTests.Zones), MemberType = typeof(OwnHourTests))]
    public void What_is_held_comes_at_the_first_moment_after_them_on_every_day_of_two_years(string id)
    {
        var zone = DateTimeZoneProviders.Tzdb[id];
        (LocalTime From, LocalTime Until)[] hours =
            [(new(20, 0), new(6, 0)), (new(2, 15), new(2, 45)), (new(22, 30), new(0, 30)), (new(0, 0), new(3, 0)), (new(13, 0), new(15, 0)), (new(7, 0), new(7, 0))];
        foreach (var (from, until) in hours)
        {
            var person = new Person { Name = "A", Email = "a@example.org", QuietFrom = from, QuietUntil = until };
            for (var moment = Instant.FromUtc(2026, 1, 1, 0, 0); moment < Instant.FromUtc(2028, 1, 1, 0, 0); moment += Duration.FromMinutes(97))
            {
                var open = QuietHours.Open(person, zone, moment);
                Assert.True(open >= moment);
                Assert.False(QuietHours.Hold(person, zone, open), $"{open.InZone(zone)}");
                if (open > moment)
                    Assert.True(QuietHours.Hold(person, zone, moment) && QuietHours.Hold(person, zone, open - Duration.FromSeconds(1)), $"{moment.InZone(zone)} {open.InZone(zone)}");
            }
        }
    }

    [Fact]
    public void They_go_by_the_own_zone_and_begin_anew_every_day()
    {
        var madrid = DateTimeZoneProviders.Tzdb["Europe/Madrid"];
        var person = new Person { Name = "A", Email = "a@example.org", ZoneId = "America/New_York" };
        // 08:00 in Madrid is 02:00 in New York.
        var moment = Instant.FromUtc(2026, 7, 1, 6, 0);
        Assert.True(QuietHours.Hold(person, madrid, moment));
        Assert.Equal(Instant.FromUtc(2026, 7, 1, 10, 0), QuietHours.Open(person, madrid, moment));
        Assert.Equal(Instant.FromUtc(2026, 7, 2, 0, 0), QuietHours.Begin(person, madrid, moment));
        Assert.Equal(Instant.FromUtc(2026, 7, 3, 0, 0), QuietHours.Begin(person, madrid, Instant.FromUtc(2026, 7, 2, 0, 0)));
    }
}
