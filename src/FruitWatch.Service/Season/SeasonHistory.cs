using System.Buffers.Binary;
using System.Security.Cryptography;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Beds;

namespace FruitWatch.Service.Season;

/// <summary>The past that a plan rests on.</summary>
internal static class SeasonHistory
{
    /// <summary>What was measured at a site before today, by its stations and its grower's gauge; forecasts and estimates left out.</summary>
    public static IReadOnlyList<WeatherDay> Of(SiteBook site) =>
    [
        .. site.Known.Where(day => day.Date < site.Today).Select(Measured).Where(day => day is not { Tmax: null, Tmin: null, Rain: null }),
    ];

    /// <summary>A name for some weather: the same days have the same name, and a day mended long after gives another.</summary>
    public static string Fingerprint(IReadOnlyList<WeatherDay> days)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Span<byte> line = stackalloc byte[9 * sizeof(double)];
        foreach (var day in days)
        {
            ReadOnlySpan<double?> values =
            [
                (day.Date.Year * 100 + day.Date.Month) * 100 + day.Date.Day,
                day.Tmax, day.Tmin, day.Rain, day.Humidity, day.DewPoint, day.Wind, day.Radiation, day.FeedEvapotranspiration,
            ];
            for (var i = 0; i < values.Length; i++)
                BinaryPrimitives.WriteDoubleLittleEndian(line[(i * sizeof(double))..], values[i] ?? double.NaN);
            hash.AppendData(line);
        }

        return Convert.ToHexString(hash.GetHashAndReset());
    }

    private static WeatherDay Measured(WeatherDay day)
    {
        var (tmax, tmin) = (IsMeasured(day.TmaxFrom), IsMeasured(day.TminFrom));
        // Humidity, wind and sun say nothing of where they came from: they are taken to come with the temperatures.
        var air = tmax || tmin ? day : new WeatherDay(day.Date, null, null, null);
        return air with
        {
            Tmax = tmax ? day.Tmax : null,
            Tmin = tmin ? day.Tmin : null,
            Rain = IsMeasured(day.RainFrom) ? day.Rain : null,
            TmaxFrom = tmax ? day.TmaxFrom : Provenance.Unknown,
            TminFrom = tmin ? day.TminFrom : Provenance.Unknown,
            RainFrom = IsMeasured(day.RainFrom) ? day.RainFrom : Provenance.Unknown,
        };
    }

    private static bool IsMeasured(Provenance from) => from is Provenance.Observed or Provenance.Gauge;
}
