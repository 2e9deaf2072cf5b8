using NodaTime.TimeZones;

namespace FruitWatch.Service.Pages;

/// <summary>Time zones that people live in, by their names in the IANA database.</summary>
internal static class ZonesOffered
{
    public static IReadOnlyList<string> All { get; } =
    [
        .. (TzdbDateTimeZoneSource.Default.ZoneLocations ?? []).Select(place => place.ZoneId).Distinct().Order(StringComparer.Ordinal),
    ];
}
