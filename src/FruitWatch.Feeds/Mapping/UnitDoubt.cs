using System.Globalization;
using FruitWatch.Feeds.Describing;
using NodaTime.Text;

namespace FruitWatch.Feeds.Mapping;

/// <summary>Tells a wrong unit of temperature from weather, by comparison with what is known of the site.</summary>
internal static class UnitDoubt
{
    // °C between the medians of a week or two of maxima: no spell does that. Common practice, no source.
    private const double TooFarApart = 15;
    private const double Fits = 5;
    private const int FewestDays = 3;

    public static FeedProblem? About(FeedReading reading, IReadOnlyList<double> recentTmax)
    {
        var read = reading.Days.Where(day => day.Tmax is { Complete: true }).ToList();
        if (read.Count < FewestDays || recentTmax.Count < FewestDays)
            return null;
        var (here, usual) = (Median(read.Select(day => day.Tmax!.Value)), Median(recentTmax));
        if (Math.Abs(here - usual) <= TooFarApart)
            return null;
        var fits = Math.Abs(Unit.ByCode("[degF]")!.ToModel(here) - usual) <= Fits
            ? " Read as °F it would fit: set the series' unit.code to [degF]."
            : "";
        return new FeedProblem(
            FeedCodes.SuspectUnits,
            string.Create(CultureInfo.InvariantCulture, $"The maxima lie around {here:0.#} °C, where {usual:0.#} °C was to be expected.{fits}"),
            LocalDatePattern.Iso.Format(read[0].Date),
            read.Count);
    }

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        return (sorted[(sorted.Count - 1) / 2] + sorted[sorted.Count / 2]) / 2;
    }
}
