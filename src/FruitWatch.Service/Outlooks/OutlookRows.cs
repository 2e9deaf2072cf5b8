using System.Text.Json;
using System.Text.Json.Serialization;
using FruitWatch.Model.Account;
using FruitWatch.Service.Beds;
using FruitWatch.Store.Entities;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace FruitWatch.Service.Outlooks;

/// <summary>
/// The outlook of a bed on a morning, kept in one row as a record of what was issued: never an input to anything but the
/// comparison with what came.
/// </summary>
internal static class OutlookRows
{
    /// <summary>Changes whenever the model gives other numbers for the same facts.</summary>
    public const string ModelVersion = "1";

    private static readonly JsonSerializerOptions s_json = new JsonSerializerOptions
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    }.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);

    /// <summary>The outlook on a day from the forecast in use; null where the bed has no account of that day.</summary>
    public static OutlookIssued? Of(SiteBook site, BedBook bed, Instant now)
    {
        if (bed.Account?.On(site.Today) is not { } today)
            return null;
        var ahead = bed.Account.Days.Where(d => d.Date >= site.Today).ToList();
        return new OutlookIssued
        {
            BedId = bed.Row.Id,
            On = site.Today,
            IssuedAt = now,
            ModelVersion = ModelVersion,
            Score = Math.Round(today.Suitability, 3),
            Phase = JsonNamingPolicy.KebabCaseLower.ConvertName(today.Phase.ToString()),
            Payload = JsonSerializer.Serialize(
                new Payload(
                    site.Forecast?.Id,
                    bed.Next(AccountEvent.Pins, site.Today),
                    bed.Next(AccountEvent.Harvest, site.Today),
                    [.. ahead.Select(d => Math.Round(d.Suitability, 1))],
                    [.. ahead.Select(d => Math.Round(d.Moisture, 3))]),
                s_json),
        };
    }

    private sealed record Payload(long? Forecast, LocalDate? Pins, LocalDate? Harvest, double[] Scores, double[] Moisture);
}
