using System.Numerics;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Account;

/// <summary>
/// A site's weather as the beds feel it: for every day and every future, what does not depend on the bed. Computed once and
/// shared by all beds of the site.
/// </summary>
/// <remarks>
/// Arrays hold day after day, each with <see cref="Stride"/> values: one for every future, filled up to a whole number of
/// vectors by repeating the last future.
/// </remarks>
public sealed class SiteForcing
{
    /// <summary>Makes room for some days of some futures.</summary>
    /// <param name="first">The first day.</param>
    /// <param name="days">At least 1.</param>
    /// <param name="futures">At least 1; 1 for the past.</param>
    /// <param name="latitude">[°], south negative; tells when the cold year starts.</param>
    public SiteForcing(LocalDate first, int days, int futures, double latitude)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(futures, 1);
        First = first;
        Days = days;
        Futures = futures;
        Latitude = latitude;
        Stride = Lanes.Padded(futures);
        Tmean = new double[days * Stride];
        Rain = new double[days * Stride];
        Et0 = new double[days * Stride];
        Humidity = new double[days * Stride];
        HumidityFactor = new double[days * Stride];
        GroundSheltered = new double[days * Stride];
        GroundOpen = new double[days * Stride];
        Tmin = new double[days * Stride];
        Tmax = new double[days * Stride];
    }

    /// <summary>The first day.</summary>
    public LocalDate First { get; }

    /// <summary>Number of days.</summary>
    public int Days { get; }

    /// <summary>Number of futures.</summary>
    public int Futures { get; }

    /// <summary>Latitude of the site. [°]</summary>
    public double Latitude { get; }

    internal int Stride { get; }

    internal double[] Tmean { get; }

    internal double[] Rain { get; }

    internal double[] Et0 { get; }

    internal double[] Humidity { get; }

    internal double[] HumidityFactor { get; }

    /// <summary>Ground minimum under trees, cloud or wind.</summary>
    internal double[] GroundSheltered { get; }

    /// <summary>Ground minimum in the open.</summary>
    internal double[] GroundOpen { get; }

    internal double[] Tmin { get; }

    internal double[] Tmax { get; }

    /// <summary>
    /// Whether the cold year starts with this day, where the futures are of different years; null where the bed's own date tells.
    /// </summary>
    internal bool[]? ColdYearStarts { get; private set; }

    /// <summary>The day after the last.</summary>
    public LocalDate End => First.PlusDays(Days);

    /// <summary>The past, or any other single series of complete days.</summary>
    /// <param name="weather">Complete days, one after another.</param>
    /// <param name="ladder">Rule for the reference evapotranspiration; brings the site's latitude.</param>
    /// <exception cref="ArgumentException">The days are not consecutive, or a value is unknown.</exception>
    public static SiteForcing Of(IReadOnlyList<WeatherDay> weather, EvaporationLadder ladder)
    {
        ArgumentNullException.ThrowIfNull(ladder);
        if (weather is not { Count: > 0 })
            throw new ArgumentException("There is no weather.", nameof(weather));

        var forcing = new SiteForcing(weather[0].Date, weather.Count, 1, ladder.Latitude);
        for (var i = 0; i < weather.Count; i++)
        {
            if (weather[i].Date != forcing.First.PlusDays(i))
                throw new ArgumentException($"{weather[i].Date:uuuu-MM-dd} does not follow the day before it; fill gaps first.", nameof(weather));
            forcing.Set(i, 0, weather[i], ladder);
        }

        return forcing;
    }

    /// <summary>Sets one day of one future.</summary>
    /// <exception cref="ArgumentException">Temperature or rain is unknown.</exception>
    public void Set(int day, int future, WeatherDay weather, EvaporationLadder ladder)
    {
        if (weather is not { Tmax: { } tmax, Tmin: { } tmin, Rain: { } rain })
            throw new ArgumentException($"{weather.Date:uuuu-MM-dd} is not complete; fill gaps first.", nameof(weather));

        var humidity = EvaporationLadder.Humidity(weather);
        var et0 = ladder.Of(weather).Et0;
        var end = future == Futures - 1 ? Stride : future + 1;
        for (var lane = future; lane < end; lane++)
        {
            var i = day * Stride + lane;
            Tmax[i] = tmax;
            Tmin[i] = tmin;
            Tmean[i] = (tmax + tmin) / 2;
            Rain[i] = rain;
            Et0[i] = et0;
            Humidity[i] = humidity;
            HumidityFactor[i] = Math.Min(1, Math.Max(0.1, (humidity - 30) / 40));
            GroundSheltered[i] = tmin - 1;
            GroundOpen[i] = tmin - (tmax - tmin >= 10 ? 3 : 1);
        }
    }

    /// <summary>Lets a future relive past days, with the calendar that they had.</summary>
    /// <param name="future">The future.</param>
    /// <param name="past">One series, long enough.</param>
    /// <param name="from">The day of the past that becomes the first day here.</param>
    internal void Relive(int future, SiteForcing past, int from)
    {
        ColdYearStarts ??= new bool[Days * Stride];
        var end = future == Futures - 1 ? Stride : future + 1;
        for (var day = 0; day < Days; day++)
        {
            var source = (from + day) * past.Stride;
            var coldYearStarts = IsColdYearStart(past.First.PlusDays(from + day), Latitude);
            for (var i = day * Stride + future; i < day * Stride + end; i++)
            {
                Tmax[i] = past.Tmax[source];
                Tmin[i] = past.Tmin[source];
                Tmean[i] = past.Tmean[source];
                Rain[i] = past.Rain[source];
                Et0[i] = past.Et0[source];
                Humidity[i] = past.Humidity[source];
                HumidityFactor[i] = past.HumidityFactor[source];
                GroundSheltered[i] = past.GroundSheltered[source];
                GroundOpen[i] = past.GroundOpen[source];
                ColdYearStarts[i] = coldYearStarts;
            }
        }
    }

    /// <summary>Whether the cold year, over which frosty nights are counted, starts with a day.</summary>
    internal static bool IsColdYearStart(LocalDate date, double latitude) =>
        date is { Day: 1 } && date.Month == (latitude >= 0 ? 7 : 1);

    /// <summary>Mean of the daily mean temperatures of up to <paramref name="count"/> days before a day. [°C]</summary>
    /// <returns>Null where no such day is known.</returns>
    internal double? MeanBefore(int day, int count)
    {
        var from = Math.Max(0, day - count);
        if (from >= day)
            return null;
        var sum = 0.0;
        for (var i = from; i < day; i++)
            sum += Tmean[i * Stride];
        return sum / (day - from);
    }
}

/// <summary>Vector lanes: how arrays over futures are padded.</summary>
internal static class Lanes
{
    public static int Padded(int futures)
    {
        var width = Vector<double>.Count;
        return (futures + width - 1) / width * width;
    }
}
