using NodaTime;
using NodaTime.TimeZones;

namespace FruitWatch.Service.Mornings;

/// <summary>
/// When a site's morning comes. By NodaTime and its own zone data alone: a wanted time that a clock change skips is the moment
/// after the gap, one that it repeats is the first of the two.
/// </summary>
internal static class LocalMorning
{
    /// <summary>From so long after the wanted time on, a round is late: its mail no longer says "this morning".</summary>
    public static readonly Duration LateAfter = Duration.FromHours(5);

    private static readonly ZoneLocalMappingResolver s_resolver =
        Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnStartOfIntervalAfter);

    /// <summary>The moment at which a day's round is wanted.</summary>
    public static Instant Of(LocalDate day, LocalTime at, DateTimeZone zone) =>
        zone.ResolveLocal(day.At(at), s_resolver).ToInstant();

    /// <summary>The local day whose morning has come, or null while today's is still to come.</summary>
    public static LocalDate? Come(Instant now, LocalTime at, DateTimeZone zone)
    {
        var today = now.InZone(zone).Date;
        return now >= Of(today, at, zone) ? today : null;
    }
}
