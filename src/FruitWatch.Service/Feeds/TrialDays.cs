using FruitWatch.Feeds;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Feeds;

/// <summary>One quantity of a day in a preview; of an ensemble the middle of its members.</summary>
/// <param name="Value">In the unit of its place in <see cref="TrialDay"/>.</param>
/// <param name="Low">Lowest member; null without members.</param>
/// <param name="High">Highest member; null without members.</param>
/// <param name="Coverage">The part of the day it stands for; of members the least. 0…1</param>
/// <param name="Complete">Whether that reaches what the description asks for, so that the value counts.</param>
/// <param name="Raw">What the answer had for it.</param>
internal sealed record TrialValue(double Value, double? Low, double? High, double Coverage, bool Complete, IReadOnlyList<RawValue> Raw);

/// <summary>A day as it was understood. What is null is unknown.</summary>
/// <param name="Date">The site's local day.</param>
/// <param name="From">Measured or forecast.</param>
/// <param name="Tmax">Highest air temperature. [°C]</param>
/// <param name="Tmin">Lowest air temperature. [°C]</param>
/// <param name="Tmean">Mean air temperature. [°C]</param>
/// <param name="Rain">Rain and melted snow. [mm]</param>
/// <param name="Humidity">Mean relative humidity. [%]</param>
internal sealed record TrialDay(
    LocalDate Date, Provenance From, TrialValue? Tmax, TrialValue? Tmin, TrialValue? Tmean, TrialValue? Rain, TrialValue? Humidity)
{
    public bool Counts => new[] { Tmax, Tmin, Tmean, Rain, Humidity }.Any(value => value is { Complete: true });
}

/// <summary>The days of a reading, members of an ensemble laid together.</summary>
internal static class TrialDays
{
    public static IReadOnlyList<TrialDay> Of(FeedReading reading) =>
    [
        .. reading.Days.GroupBy(day => day.Date).OrderBy(days => days.Key).Select(days => new TrialDay(
            days.Key,
            From(reading, days.Key),
            Of(days, day => day.Tmax),
            Of(days, day => day.Tmin),
            Of(days, day => day.Tmean),
            Of(days, day => day.Rain),
            Of(days, day => day.Humidity))),
    ];

    /// <summary>Stretches of days between the first and the last of which nothing is known.</summary>
    public static IReadOnlyList<(LocalDate First, LocalDate Last)> Gaps(IReadOnlyList<TrialDay> days)
    {
        var known = days.Where(day => (day.Tmax ?? day.Tmin ?? day.Tmean ?? day.Rain ?? day.Humidity) is not null).Select(day => day.Date).ToList();
        return [.. known.Zip(known.Skip(1)).Where(pair => pair.First.PlusDays(1) < pair.Second).Select(pair => (pair.First.PlusDays(1), pair.Second.PlusDays(-1)))];
    }

    private static Provenance From(FeedReading reading, LocalDate date) => reading.Provides switch
    {
        FeedProvides.History => Provenance.Observed,
        FeedProvides.Both when date < reading.Today => Provenance.Observed,
        _ => Provenance.Forecast,
    };

    private static TrialValue? Of(IEnumerable<FeedDay> days, Func<FeedDay, FeedValue?> quantity)
    {
        var values = days.Select(day => (day.Member, Value: quantity(day))).Where(one => one.Value is not null).ToList();
        if (values.Count == 0)
            return null;
        var raw = values.SelectMany(one => one.Value!.Raw).ToList();
        if (values is [{ Member: null, Value: { } alone }])
            return new TrialValue(alone.Value, null, null, alone.Coverage, alone.Complete, raw);
        var sorted = values.Select(one => one.Value!.Value).Order().ToList();
        var middle = (sorted[(sorted.Count - 1) / 2] + sorted[sorted.Count / 2]) / 2;
        return new TrialValue(
            middle, sorted[0], sorted[^1], values.Min(one => one.Value!.Coverage), values.All(one => one.Value!.Complete), raw);
    }
}
