using System.Globalization;
using System.Text;
using FruitWatch.Feeds.Mapping;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>One quantity of one local day as a feed gave it.</summary>
/// <param name="Value">In the unit of its place in <see cref="FeedDay"/>.</param>
/// <param name="Coverage">The part of the day the value stands for. 0…1</param>
/// <param name="Complete">
/// Whether the coverage reaches what the description asks for. An incomplete rain is a lower bound; an incomplete extreme
/// says nothing.
/// </param>
public sealed record FeedValue(double Value, double Coverage, bool Complete)
{
    /// <summary>What the answer had for this value, in the order of time; empty unless the reading was asked to explain itself.</summary>
    public IReadOnlyList<RawValue> Raw { get; init; } = [];
}

/// <summary>One number as the answer had it, from which a value of a day was made.</summary>
/// <param name="Text">As written there.</param>
/// <param name="Unit">The code of the unit it was read in: the one the answer declares, or else the one described.</param>
/// <param name="Time">Its time, as written there.</param>
/// <param name="Place">Where it stands: a JSON pointer into the answer, or a line and column.</param>
public sealed record RawValue(string Text, string Unit, string Time, string Place)
{
    /// <summary>What the number was multiplied by before its unit was looked at: 0.1 for values in tenths.</summary>
    public double Scale { get; init; } = 1;
}

/// <summary>One local civil day of a feed, or of one member of an ensemble. What is null is unknown, never zero.</summary>
/// <param name="Date">The site's local civil day.</param>
/// <param name="Member">The member's label in an ensemble ("base" for the unsuffixed series), otherwise null.</param>
/// <param name="Tmax">Highest air temperature. [°C]</param>
/// <param name="Tmin">Lowest air temperature. [°C]</param>
/// <param name="Tmean">Mean air temperature. [°C]</param>
/// <param name="Rain">Rain and melted snow. [mm]</param>
/// <param name="Humidity">Mean relative humidity. [%]</param>
public sealed record FeedDay(
    LocalDate Date,
    string? Member,
    FeedValue? Tmax,
    FeedValue? Tmin,
    FeedValue? Tmean,
    FeedValue? Rain,
    FeedValue? Humidity);

/// <summary>What one answer of a feed was understood to say.</summary>
/// <param name="Days">By date, then by member.</param>
/// <param name="Notes">What was odd in the answer and what was done with it.</param>
/// <param name="Today">The site's local date when the answer was read.</param>
/// <param name="ReceivedAt">When the answer came.</param>
/// <param name="Provides">Whether the feed gives past days, coming days or both.</param>
public sealed record FeedReading(
    IReadOnlyList<FeedDay> Days,
    IReadOnlyList<FeedProblem> Notes,
    LocalDate Today,
    Instant ReceivedAt,
    FeedProvides Provides)
{
    /// <summary>The labels of the ensemble's members, in order; empty for a feed without members.</summary>
    public IReadOnlyList<string> Members =>
        [.. Days.Select(day => day.Member).OfType<string>().Distinct().Order(StringComparer.Ordinal)];

    /// <summary>Whether enough members came for their spread to mean something, as the description asks.</summary>
    public bool SpreadUsable { get; init; }

    /// <summary>The days of the single series, for the model; empty for an ensemble.</summary>
    public IReadOnlyList<WeatherDay> ToWeather() => ToWeather(null);

    /// <summary>The days of one member of an ensemble, for the model.</summary>
    /// <param name="member">A label of <see cref="Members"/>, or null for the single series.</param>
    /// <remarks>
    /// Incomplete values are left unknown. Of a feed that gives both, the days before <see cref="Today"/> count as observed
    /// and the others as forecast; a history never forecasts, not even today, and a forecast never observes.
    /// </remarks>
    public IReadOnlyList<WeatherDay> ToWeather(string? member) =>
        [.. Days.Where(day => day.Member == member).Select(WeatherOf).OfType<WeatherDay>()];

    /// <summary>
    /// The complete values of the single series as a file that the shipped description <c>station-daily-csv</c> reads.
    /// </summary>
    public string ToStationCsv()
    {
        var text = new StringBuilder("date,tmax_c,tmin_c,rain_mm\n");
        foreach (var day in Days.Where(day => day.Member is null))
            text.Append(string.Create(
                CultureInfo.InvariantCulture, $"{day.Date:uuuu-MM-dd},{Known(day.Tmax):R},{Known(day.Tmin):R},{Known(day.Rain):R}\n"));
        return text.ToString();
    }

    /// <summary>How the series of temperature and rain were read.</summary>
    internal IReadOnlyList<SeriesRead> Read { get; init; } = [];

    /// <summary>
    /// Questions about units that no limit answers: undeclared °F, tenths, inches, centimetres. Compared with what is usual at
    /// the site, the numbers are too far off to be weather; the answer should be held until the user has said which unit it is.
    /// </summary>
    /// <param name="usual">The last good days, or the same weeks of past years; too few of them raise no question.</param>
    public IReadOnlyList<UnitQuestion> UnitQuestions(SiteUsual usual)
    {
        ArgumentNullException.ThrowIfNull(usual);
        return UnitDoubt.About(this, usual);
    }

    private WeatherDay? WeatherOf(FeedDay day)
    {
        var (tmax, tmin) = (Known(day.Tmax), Known(day.Tmin));
        if (tmin > tmax)
            // At most half a degree apart, or both would be unknown: the rounding of two sources. The mean keeps Tmean.
            tmax = tmin = (tmax + tmin) / 2;
        var weather = new WeatherDay(day.Date, tmax, tmin, Known(day.Rain)) { Humidity = Known(day.Humidity) };
        if ((weather.Tmax ?? weather.Tmin ?? weather.Rain ?? weather.Humidity) is null)
            return null;
        return weather.From(Provides switch
        {
            FeedProvides.History => Provenance.Observed,
            FeedProvides.Both when day.Date < Today => Provenance.Observed,
            _ => Provenance.Forecast,
        });
    }

    private static double? Known(FeedValue? value) => value is { Complete: true } ? value.Value : null;
}
