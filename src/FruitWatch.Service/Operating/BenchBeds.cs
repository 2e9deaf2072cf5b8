using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Beds and weather that the measurements run on: of every species, under invented skies.</summary>
internal static class BenchBeds
{
    public const double Latitude = 47;

    /// <summary>Beds of all species in turn, of several depths, shades and mulches.</summary>
    public static IEnumerable<(int Number, Bed Bed)> Make(int count, LocalDate inoculated)
    {
        var catalogue = BedCatalogue.BuiltIn;
        var species = catalogue.Species.Values.ToArray();
        for (var i = 0; i < count; i++)
        {
            var kind = species[i % species.Length];
            yield return (i, new Bed(kind, inoculated, [new Layer(catalogue.Materials[kind.Materials[0]], 0.12 + i % 7 * 0.02, inoculated)])
            {
                Shade = i % 10 / 10.0,
                MulchCm = i % 4,
                Mulch = catalogue.Materials["cereal-straw"],
            });
        }
    }

    /// <summary>A temperate spring and summer; each future has its own showers and waves of warmth.</summary>
    public static SiteForcing Weather(LocalDate first, int days, int futures)
    {
        var forcing = new SiteForcing(first, days, futures, Latitude);
        var ladder = new EvaporationLadder(Latitude);
        for (var day = 0; day < days; day++)
        {
            for (var future = 0; future < futures; future++)
            {
                var wave = 4 * Math.Sin(day / 3.1 + future) + 2 * Math.Sin(day / 1.3 + 2.7 * future);
                var mean = 14 + 7 * Math.Sin(Math.PI * day / days) + wave;
                var rain = Math.Max(0, 9 * Math.Sin(day * 2.3 + 5.1 * future) - 4);
                forcing.Set(day, future, new WeatherDay(first.PlusDays(day), mean + 5 - rain / 4, mean - 5 + rain / 4, rain), ladder);
            }
        }

        return forcing;
    }
}
