using NodaTime;

namespace FruitWatch.Feeds.Mapping;

/// <summary>
/// The civil days of a zone as stretches of the UTC time line: 23, 24, 24½ or 25 hours long, or of no length at all where a
/// country left a day out.
/// </summary>
internal sealed class SiteDays(DateTimeZone zone)
{
    private readonly Dictionary<LocalDate, Instant> starts = [];

    public DateTimeZone Zone => zone;

    public LocalDate DateOf(Instant instant) => instant.InZone(zone).Date;

    public Instant StartOf(LocalDate date)
    {
        if (!starts.TryGetValue(date, out var start))
            starts[date] = start = FirstInstantOf(date);
        return start;
    }

    public Instant EndOf(LocalDate date) => StartOf(date.PlusDays(1));

    /// <summary>The 24 hours, more or less, that end so many minutes after the midnight a date begins with.</summary>
    public (Instant Start, Instant End) Window(LocalDate date, int endMinutes)
    {
        if (endMinutes == 24 * 60)
            return (StartOf(date), EndOf(date));
        var end = date.AtMidnight().PlusMinutes(endMinutes);
        return (end.PlusDays(-1).InZoneLeniently(zone).ToInstant(), end.InZoneLeniently(zone).ToInstant());
    }

    private Instant FirstInstantOf(LocalDate date)
    {
        var mapping = zone.MapLocal(date.AtMidnight());
        // Midnight is left out when the clocks go forward over it, or with the whole day: the day begins with the change.
        return mapping.Count == 0 ? mapping.LateInterval.Start : mapping.First().ToInstant();
    }
}
