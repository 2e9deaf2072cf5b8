using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Tests.Account;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace FruitWatch.Model.Tests.Learning;

/// <summary>
/// A bed whose two multipliers are known, kept for some months in the weather of a real city, and the log of a grower who sees it
/// with the errors that the catalogue states.
/// </summary>
internal sealed class SyntheticBed
{
    /// <summary>Days after <see cref="Until"/> in which its next pins are looked for.</summary>
    public const int Horizon = 120;

    private static readonly string[] s_species =
        ["wine-cap", "oyster-cold", "oyster-warm", "elm-oyster", "almond-agaricus", "shaggy-mane", "wood-blewit", "shiitake"];

    public SyntheticBed(int number)
    {
        var random = new Random(1000 + number);
        var learning = Made.Catalogue.Learning;
        City = random.Next(2) == 0 ? "Seattle" : "New York";
        Evaporation = Math.Exp(Normal.Sample(random, 0, learning.SigmaEvaporation));
        Growth = Math.Exp(Normal.Sample(random, 0, learning.SigmaGrowth));

        var species = Made.Catalogue.Species[s_species[random.Next(s_species.Length)]];
        var material = Made.Catalogue.Materials[species.Materials[random.Next(species.Materials.Count)]];
        var (weather, _) = Cities.Of(City);
        var sown = weather[0].Date.PlusDays(60 + random.Next(weather.Count - 60 - 300 - Horizon));
        Bed = new Bed(species, sown, [new Layer(material, 0.10 + 0.15 * random.NextDouble(), sown)])
        {
            Shade = random.NextDouble(),
            MulchCm = random.Next(2) * 3,
            Mulch = Made.Catalogue.Materials["cereal-straw"],
            Wetness = 0.7 + 0.3 * random.NextDouble(),
        };
        Until = sown.PlusDays(60 + random.Next(240));
        Truth = Observe(random);
    }

    public string City { get; }

    /// <summary>As its grower would enter it: the multipliers are not known.</summary>
    public Bed Bed { get; }

    public double Evaporation { get; }

    public double Growth { get; }

    public LocalDate Until { get; }

    /// <summary>What the grower did and saw.</summary>
    public List<LogEntry> Log { get; } = [];

    /// <summary>What really happened, by the true multipliers, to the end of the horizon; nobody's observations correct it.</summary>
    public BedAccount Truth { get; }

    /// <summary>First day after <see cref="Until"/> on which something happens.</summary>
    public LocalDate? Next(AccountEvent what) =>
        Truth.Days.Where(day => day.Date > Until && day.Event == what).Select(day => (LocalDate?)day.Date).FirstOrDefault();

    private BedAccount Observe(Random random)
    {
        var learning = Made.Catalogue.Learning;
        var watering = random.Next(5, 12);
        for (var day = Bed.Inoculated.PlusDays(watering); day <= Until; day = day.PlusDays(watering))
        {
            if (day.Month is >= 4 and <= 10)
                Log.Add(new WaterGiven(day, 4 + 8 * random.NextDouble()));
        }

        var truth = BedAccount.Run(
            Bed with { EvaporationMultiplier = Evaporation, GrowthMultiplier = Growth }, Log, Weather.Of(City), Made.Catalogue, Until.PlusDays(Horizon));

        for (var day = Bed.Inoculated.PlusDays(random.Next(21)); day <= Until; day = day.PlusDays(random.Next(14, 22)))
            Log.Add(new SqueezeTest(day, Squeezed(truth.On(day)!.Value, Normal.Sample(random, 0, learning.SdMoisture))));

        List<LocalDate> pins = [];
        foreach (var day in truth.Days.Where(day => day.Event == AccountEvent.Pins))
        {
            var seen = day.Date.PlusDays((int)Math.Round(Normal.Sample(random, 0, learning.SdPinsDays)));
            if (seen <= Until)
                pins.Add(seen);
        }

        // Looks stop once all of the bed was seen white, or pins were seen.
        for (var day = Bed.Inoculated.PlusDays(random.Next(14, 29)); day <= Until && !pins.Any(seen => seen <= day); day = day.PlusDays(random.Next(21, 29)))
        {
            var share = Math.Clamp(truth.On(day)!.Value.SpawnRun + Normal.Sample(random, 0, learning.SdMycelium), 0, 1);
            Log.Add(new MyceliumSeen(day, share));
            if (share >= 1)
                break;
        }

        Log.AddRange(pins.Select(seen => new PinsSeen(seen)));
        return truth;
    }

    /// <summary>The class of a moisture, the limits midway between those that the classes stand for: 0.2 | 0.8 | 1.3.</summary>
    private static Squeeze Squeezed(AccountDay day, double error)
    {
        var low = day.Water - day.Moisture * day.AvailableStore;
        var dry = day.Water * (1 / day.WetBasis - 1);
        var seen = day.WetBasis + error;
        return seen < WetBasis(0.5) ? Squeeze.Crumbles : seen < WetBasis(1.05) ? Squeeze.Right : Squeeze.Dripping;

        double WetBasis(double relative)
        {
            var water = low + relative * day.AvailableStore;
            return water / (water + dry);
        }
    }

    /// <summary>Weather of the two cities, prepared once.</summary>
    internal static class Weather
    {
        private static readonly SiteForcing s_seattle = SiteForcing.Of(Cities.Seattle, Cities.SeattleLadder);
        private static readonly SiteForcing s_newYork = SiteForcing.Of(Cities.NewYork, Cities.NewYorkLadder);

        public static SiteForcing Of(string city) => city == "Seattle" ? s_seattle : s_newYork;

        /// <summary>What was known on the evening of a day.</summary>
        public static SiteForcing Until(string city, LocalDate last)
        {
            var (days, ladder) = Cities.Of(city);
            return SiteForcing.Of([.. days.TakeWhile(day => day.Date <= last)], ladder);
        }
    }
}
