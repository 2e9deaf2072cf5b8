using System.Globalization;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Mapping;

/// <summary>Tells a wrong unit from weather, by comparison with what is known of the site.</summary>
/// <remarks>
/// Maxima: the medians of two spells of days are compared. Rain: the logarithms of the wet days' amounts, because amounts
/// differ by factors, and a wrong unit is a factor; asked only where the difference is both large and far beyond chance.
/// How often a right feed is questioned and a wrong one caught is measured on four years of two cities (UnitDoubtTests).
/// </remarks>
internal static class UnitDoubt
{
    // °C between the medians of a week or two of maxima: no spell does that. Common practice, no source.
    private const double TooFarApart = 15;
    private const double Fits = 5;
    private const int FewestDays = 3;

    // A factor of 6 between typical wet days, and three standard errors. The nearest confusions are factors of 10 and 25.4.
    private static readonly double LeastFactor = Math.Log(6);
    private const double StandardErrors = 3;
    private const int FewestWetDays = 3;
    private const int FewestUsualWetDays = 5;

    // Amounts of wet days spread by a factor e or more anywhere; a few equal ones must not pass for certainty.
    private const double LeastSpread = 1;

    // A fit leaves at most a factor of e.
    private const double RainFits = 1;
    private const int MostFits = 2;

    private static readonly double[] Scales = [1, 0.1, 0.01];

    public static IReadOnlyList<UnitQuestion> About(FeedReading reading, SiteUsual usual)
    {
        // The members of an ensemble are one weather several times over; one of them is enough.
        var member = reading.Members.Count > 0 ? reading.Members[^1] : null;
        var days = reading.Days.Where(day => day.Member == member).ToList();
        var tmax = days.Where(day => day.Tmax is { Complete: true }).Select(day => day.Tmax!.Value).ToList();
        var rain = days.Where(day => day.Rain is { Complete: true }).Select(day => day.Rain!.Value).ToList();
        return
        [
            .. reading.Read.Where(one => one.Quantity == Quantity.Tmax).Select(one => OfTemperature(one, tmax, usual.Tmax)).OfType<UnitQuestion>(),
            .. reading.Read.Where(one => one.Quantity == Quantity.Rain).Select(one => OfRain(one, rain, usual.Rain)).OfType<UnitQuestion>(),
        ];
    }

    private static UnitQuestion? OfTemperature(SeriesRead series, List<double> read, IReadOnlyList<double> usual)
    {
        if (read.Count < FewestDays || usual.Count < FewestDays)
            return null;
        var (here, there) = (Median(read), Median(usual));
        if (Math.Abs(here - there) <= TooFarApart)
            return null;
        var raw = ((here / series.Unit.Factor) + series.Unit.Zero) / series.Scale;
        var fits = Others(series)
            .Select(other => (other.Unit, other.Scale, Becomes: other.Unit.ToModel(raw * other.Scale)))
            .Where(other => Math.Abs(other.Becomes - there) <= Fits)
            .OrderBy(other => Math.Abs(other.Becomes - there));
        return Asked(
            series, here, there, $"The maxima of {read.Count} days lie around {Show(here)} °C, where {Show(there)} °C was to be expected.", "°C", fits);
    }

    private static UnitQuestion? OfRain(SeriesRead series, List<double> read, IReadOnlyList<double> usual)
    {
        var (here, there) = (Logs(read), Logs(usual));
        if (here.Count < FewestWetDays || there.Count < FewestUsualWetDays)
            return null;
        var apart = here.Average() - there.Average();
        var error = Math.Max(LeastSpread, Spread(there)) * Math.Sqrt((1.0 / here.Count) + (1.0 / there.Count));
        if (Math.Abs(apart) < LeastFactor || Math.Abs(apart) < StandardErrors * error)
            return null;
        var (typical, expected) = (Math.Exp(here.Average()), Math.Exp(there.Average()));
        var fits = Others(series)
            .Select(other => (other.Unit, other.Scale, Becomes: typical * other.Unit.Factor * other.Scale / (series.Unit.Factor * series.Scale)))
            .Where(other => Math.Abs(Math.Log(other.Becomes / expected)) <= RainFits)
            .OrderBy(other => Math.Abs(Math.Log(other.Becomes / expected)));
        return Asked(
            series, typical, expected,
            $"A wet day has {Show(typical)} mm (of {here.Count} wet days), where {Show(expected)} mm was to be expected (of {there.Count}).", "mm", fits);
    }

    private static UnitQuestion Asked(
        SeriesRead series, double read, double usual, string sentence, string unit, IEnumerable<(Unit Unit, double Scale, double Becomes)> others)
    {
        var fits = others.Take(MostFits).Select(other => Fit(series, other.Unit, other.Scale, other.Becomes)).ToList();
        var question = fits.Count == 0
            ? " No other unit would fit: is it the right place, and the right column?"
            : $" Read as {string.Join(" or ", fits.Select(fit => $"{fit.ReadAs} it would be {Show(fit.Becomes)} {unit}"))}. Which is it?";
        return new UnitQuestion(series.Name, Show(series.Unit, series.Scale), read, usual, sentence + question, fits);
    }

    private static UnitFit Fit(SeriesRead series, Unit unit, double scale, double becomes)
    {
        var (member, value) = unit == series.Unit ? ("scale", Show(scale)) : ("unit/code", $"\"{unit.Code}\"");
        return new UnitFit(
            Show(unit, scale), becomes, $"/series/{series.Name}/{member}", value,
            $"Set series.{series.Name}.{member.Replace('/', '.')} to {value.Trim('"')}.");
    }

    /// <summary>The units that one change of the description leads to: another code, or another scale.</summary>
    private static IEnumerable<(Unit Unit, double Scale)> Others(SeriesRead series)
    {
        foreach (var unit in Unit.All.Where(unit => !series.Declared && unit != series.Unit && unit.Quantity == series.Unit.Quantity))
            yield return (unit, series.Scale);
        foreach (var scale in Scales.Where(scale => scale != series.Scale))
            yield return (series.Unit, scale);
    }

    private static List<double> Logs(IEnumerable<double> rain) => [.. rain.Where(mm => mm > 0).Select(mm => Math.Log(mm))];

    private static double Spread(List<double> values)
    {
        var mean = values.Average();
        return Math.Sqrt(values.Average(value => (value - mean) * (value - mean)));
    }

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        return (sorted[(sorted.Count - 1) / 2] + sorted[sorted.Count / 2]) / 2;
    }

    private static string Show(Unit unit, double scale) => scale == 1 ? unit.Code : $"{Show(scale)} {unit.Code}";

    private static string Show(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
