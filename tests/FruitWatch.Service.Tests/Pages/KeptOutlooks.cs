using System.Globalization;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Pages;

/// <summary>Outlooks as a morning round keeps them, made up.</summary>
internal static class KeptOutlooks
{
    public const int Members = 64;

    /// <summary>An outlook of 40 days with pins in so many futures from the first day on.</summary>
    /// <param name="bed">Of which bed.</param>
    /// <param name="on">Of which morning.</param>
    /// <param name="pins">Futures with pins; null for an outlook without futures.</param>
    /// <param name="rule">What the rule of thumb said.</param>
    /// <param name="phase">Of the bed by the evening.</param>
    /// <param name="pinsOn">Day of the pins by the single forecast.</param>
    public static OutlookIssued Row(long bed, LocalDate on, int? pins, bool? rule = null, string phase = "ready", LocalDate? pinsOn = null)
    {
        var futures = pins is { } count
            ? string.Create(CultureInfo.InvariantCulture, $$""","futures":{"members":{{Members}},"days":40,"pins":[{{count}}],"harvest":[],"dry":[],"source":"dressed","lastForecastDay":"{{on.PlusDays(9):uuuu-MM-dd}}","years":[2024,2025]}""")
            : "";
        var said = rule is { } expects ? $",\"rule\":{(expects ? "true" : "false")}" : "";
        var single = pinsOn is { } day ? string.Create(CultureInfo.InvariantCulture, $"\"pins\":\"{day:uuuu-MM-dd}\",") : "";
        return new OutlookIssued
        {
            BedId = bed,
            On = on,
            IssuedAt = on.AtMidnight().InUtc().ToInstant() + Duration.FromHours(6),
            ModelVersion = "2",
            Score = 50,
            Phase = phase,
            Payload = $"{{{single}\"scores\":[50],\"moisture\":[0.6]{futures}{said}}}",
        };
    }
}
