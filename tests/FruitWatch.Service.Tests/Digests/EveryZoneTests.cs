using System.Collections.Concurrent;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Mornings;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>
/// Every zone of the tz database (as it comes with NodaTime), from 2024 to the end of 2030: a service that looks every five minutes finds
/// the time for exactly one digest on every local day, at the wanted hour or, where the clock skips that, at the first look after it.
/// </summary>
public sealed class EveryZoneTests
{
    private static readonly LocalDate s_first = new(2024, 1, 1);
    private static readonly LocalDate s_last = new(2030, 12, 31);
    private static readonly Duration s_tick = Duration.FromMinutes(5);

    [Fact]
    public void Exactly_one_digest_a_local_day_in_every_zone_for_seven_years()
    {
        var wrong = new ConcurrentQueue<string>();
        var days = 0L;
        // Many names stand for the same clock in these years: one of them is followed for all.
        var clocks = DateTimeZoneProviders.Tzdb.Ids.GroupBy(id => Clock(DateTimeZoneProviders.Tzdb[id])).ToList();
        Parallel.ForEach(clocks, names =>
        {
            var id = names.First();
            var zone = DateTimeZoneProviders.Tzdb[id];
            // Rounds in the hour in which clocks change, and a person who wants to be left alone until half past two.
            var early = new Site { Name = "S", ZoneId = id, MorningAt = new LocalTime(2, 30) };
            var usual = new Site { Name = "S", ZoneId = id };
            var owl = new Person { Name = "A", Email = "a@example.org", QuietFrom = new LocalTime(22, 0), QuietUntil = new LocalTime(2, 30) };
            var plain = new Person { Name = "B", Email = "b@example.org", MorningAt = new LocalTime(7, 15) };
            foreach (var (site, person) in new[] { (early, owl), (usual, plain) })
                Interlocked.Add(ref days, Follow(zone, site, person, wrong) * names.Count());
        });
        Assert.True(wrong.IsEmpty, string.Join("\n", wrong.Take(20)));
        Assert.True(days > 1_000_000, $"{days} days");
    }

    /// <summary>What a clock shows in these years, and shortly before and after.</summary>
    private static string Clock(DateTimeZone zone) => string.Join(' ', zone.GetZoneIntervals(
            s_first.PlusDays(-7).AtStartOfDayInZone(zone).ToInstant(), s_last.PlusDays(7).AtStartOfDayInZone(zone).ToInstant())
        .Select((interval, i) => $"{(i == 0 ? "" : interval.Start)}{interval.WallOffset}"));

    /// <summary>Follows the clock from look to look; where no change of it is near, in strides.</summary>
    private static long Follow(DateTimeZone zone, Site site, Person person, ConcurrentQueue<string> wrong)
    {
        Site[] sites = [site];
        var composed = new HashSet<LocalDate>();
        var now = s_first.AtStartOfDayInZone(zone).ToInstant();
        var end = s_last.PlusDays(1).AtStartOfDayInZone(zone).ToInstant();
        var stride = Duration.FromHours(2);
        while (now < end)
        {
            var day = now.InZone(zone).Date;
            // One a day at most is the store's unique key of person and day; here a set.
            if (!composed.Contains(day) && DueDigests.TimeOf(person, day, sites, now) is { } time)
            {
                composed.Add(day);
                var at = LocalMorning.Of(day, person.MorningAt ?? site.MorningAt, zone);
                // A stride finds the time late, a look every five minutes within five.
                if (now < at || now - at > (IsChangeNear(zone, now) ? s_tick : stride))
                    wrong.Enqueue($"{zone.Id} {day}: told at {now.InZone(zone)}, wanted {at.InZone(zone)}, {time}");
                if (QuietHours.Hold(person, zone, now))
                    wrong.Enqueue($"{zone.Id} {day}: told in quiet hours at {now.InZone(zone)}");
            }

            now += IsChangeNear(zone, now) ? s_tick : stride;
        }

        for (var day = s_first; day <= s_last; day = day.PlusDays(1))
        {
            if (!composed.Contains(day))
                wrong.Enqueue($"{zone.Id} {day}: nobody was told");
        }

        return composed.Count;
    }

    private static bool IsChangeNear(DateTimeZone zone, Instant now)
    {
        var interval = zone.GetZoneInterval(now);
        var near = Duration.FromHours(30);
        return (interval.HasStart && now - interval.Start < near) || (interval.HasEnd && interval.End - now < near);
    }
}
