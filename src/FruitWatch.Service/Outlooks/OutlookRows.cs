using System.Text.Json;
using System.Text.Json.Serialization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Outlooks;
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
    public const string ModelVersion = "2";

    private static readonly JsonSerializerOptions s_json = new JsonSerializerOptions
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false) },
    }.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);

    /// <summary>What was issued on a day; null where the bed has no account of that day.</summary>
    /// <param name="site">The site.</param>
    /// <param name="bed">Its bed.</param>
    /// <param name="outlook">In all futures; null where there is none.</param>
    /// <param name="ruleOfThumb">What the growers' rule of thumb says of pins; null where it says nothing.</param>
    /// <param name="now">When it was issued.</param>
    public static OutlookIssued? Of(SiteBook site, BedBook bed, BedOutlook? outlook, bool? ruleOfThumb, Instant now)
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
                    [.. ahead.Select(d => Math.Round(d.Moisture, 3))],
                    outlook is not null && site.Futures is { } futures ? Counted(outlook, futures) : null,
                    ruleOfThumb),
                s_json),
        };
    }

    /// <summary>What a row says. Rows of model 1 tell of the single forecast only.</summary>
    /// <exception cref="InvalidDataException">The row holds no outlook that this service wrote.</exception>
    public static OutlookRecord Read(OutlookIssued row)
    {
        Payload kept;
        try
        {
            kept = JsonSerializer.Deserialize<Payload>(row.Payload, s_json) ?? throw new JsonException("null");
        }
        catch (Exception wrong) when (wrong is JsonException or NodaTime.Text.UnparsableValueException)
        {
            throw new InvalidDataException(
                FormattableString.Invariant($"The outlook kept of bed {row.BedId} on {row.On:uuuu-MM-dd} (row {row.Id}) cannot be read: {wrong.Message}"), wrong);
        }

        return new OutlookRecord(row.On, row.ModelVersion, kept.Pins, kept.Harvest, kept.Scores, kept.Moisture)
        {
            Forecast = kept.Forecast,
            Futures = kept.Futures is { } counted
                ? counted with { Pins = Whole(counted.Pins), Harvest = Whole(counted.Harvest), Dry = Whole(counted.Dry) }
                : null,
            RuleOfThumb = kept.Rule,
        };

        int[] Whole(int[] cut) => [.. cut, .. Enumerable.Repeat(cut.Length > 0 ? cut[^1] : 0, Math.Max(0, kept.Futures!.Days - cut.Length))];
    }

    private static FutureCounts Counted(BedOutlook outlook, WeatherFutures futures) => new(
        outlook.Members,
        outlook.Days,
        Cut(outlook.Alone.Pins.By),
        Cut(outlook.Alone.Harvest.By),
        Cut(outlook.Alone.Dry.By),
        futures.Source,
        futures.LastForecastDay,
        [.. futures.Years]);

    /// <summary>Counts that never fall, up to the last rise: what comes after is the same. Empty where nothing happens.</summary>
    private static int[] Cut(IReadOnlyList<int> by)
    {
        var days = by.Count;
        while (days > 0 && by[days - 1] == (days > 1 ? by[days - 2] : 0))
            days--;
        return [.. by.Take(days)];
    }

    private sealed record Payload(
        long? Forecast, LocalDate? Pins, LocalDate? Harvest, double[] Scores, double[] Moisture, FutureCounts? Futures = null, bool? Rule = null);
}

/// <summary>What was issued of a bed on a morning.</summary>
/// <param name="On">The site's local day.</param>
/// <param name="ModelVersion">Which model made it.</param>
/// <param name="Pins">Next pins by the single forecast; null where there were none within it.</param>
/// <param name="Harvest">Next harvest by the single forecast.</param>
/// <param name="Scores">Suitability by day from <paramref name="On"/> to the end of the forecast. 0…100</param>
/// <param name="Moisture">Relative moisture of the layer on the same days.</param>
internal sealed record OutlookRecord(
    LocalDate On, string ModelVersion, LocalDate? Pins, LocalDate? Harvest, IReadOnlyList<double> Scores, IReadOnlyList<double> Moisture)
{
    /// <summary>Key of the forecast that it rests on.</summary>
    public long? Forecast { get; init; }

    /// <summary>What the futures brought; null where there were none.</summary>
    public FutureCounts? Futures { get; init; }

    /// <summary>What the growers' rule of thumb said of pins; null where it said nothing or was not asked.</summary>
    public bool? RuleOfThumb { get; init; }
}

/// <summary>In how many futures something had happened by the end of each day, the bed left alone.</summary>
/// <param name="Members">Number of futures.</param>
/// <param name="Days">Days from the day of issue on.</param>
/// <param name="Pins">Futures with pins, by day.</param>
/// <param name="Harvest">Futures with a flush of picking size, by day.</param>
/// <param name="Dry">Futures in which the layer had fallen below its mark, by day.</param>
/// <param name="Source">What the first days came from.</param>
/// <param name="LastForecastDay">The last day that rested on a forecast; the day before issue where there was none.</param>
/// <param name="Years">Past years used after that.</param>
internal sealed record FutureCounts(
    int Members, int Days, int[] Pins, int[] Harvest, int[] Dry, FutureSource Source, LocalDate LastForecastDay, int[] Years);
