using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Verification.Backtest;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Operating.Accounts;

namespace FruitWatch.Service.Operating;

/// <summary>Replays the past years of a weather file and prints how good the forecasts of pins would have been.</summary>
internal static class BacktestVerb
{
    public static readonly string[] Known = ["weather", "latitude", "species", "beds", "every", "lead", "seed", "strain-spread", "threads"];

    private const string UsualSpecies = "wine-cap,oyster-cold,wood-blewit";

    public static void Run(VerbOptions options, TextWriter output)
    {
        var setting = Setting(options);
        var shown = Whole(options, "lead", 7, 1, BacktestRun.OutlookDays);
        if (!setting.Leads.Contains(shown))
            setting = setting with { Leads = [.. setting.Leads.Append(shown).Order()] };
        BacktestResult result;
        try
        {
            result = BacktestRun.Run(setting);
        }
        catch (ArgumentException error)
        {
            throw new VerbException(error.Message);
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"weather {setting.Weather[0].Date:uuuu-MM-dd} to {setting.Weather[^1].Date:uuuu-MM-dd}, beds {result.Beds}, mornings {result.Mornings}, outlooks scored {result.Outlooks}, times pins came {result.PinsEvents}, seed {setting.Seed}, strain spread {setting.StrainSpread}"));
        BacktestTable.Write(output, "As issued: with learning, the bed left alone from the morning on", setting, result.Learned, shown);
        BacktestTable.Write(output, "With learning, the bed kept moist as its grower does", setting, result.KeptMoist, shown);
        BacktestTable.Write(output, "Without learning: the catalogue's multipliers, the bed left alone", setting, result.Unlearned, shown);
    }

    private static BacktestSetting Setting(VerbOptions options)
    {
        var file = options.Required("weather");
        var latitude = Number(options, "latitude", null, -90, 90);
        var known = WeatherCsv.Read(file, InputFile.ReadAllText(file));
        var complete = GapFilling.Complete(known, known.Min(d => d.Date), known.Max(d => d.Date), new Climatology(known));
        if (complete.StoppedAt is { } stop)
            throw new VerbException($"{file}: the weather of {stop:uuuu-MM-dd} is unknown, and the file has no other days from which to tell what is usual then: add the day, or more years.");
        return new BacktestSetting
        {
            Weather = complete.Days,
            // A forecast has temperatures and rain only; the true beds dry by the same rule, or its bias would be scored.
            Ladder = new EvaporationLadder(latitude) { TemperatureOnly = true },
            Species = [.. (options.Optional("species") ?? UsualSpecies).Split(',').Select(key => SpeciesOf(key.Trim()))],
            Catalogue = BedCatalogue.BuiltIn,
            BedsPerYear = Whole(options, "beds", 4, 1, 100),
            Every = Whole(options, "every", 3, 1, 365),
            Seed = (ulong)Whole(options, "seed", 1, 0, int.MaxValue),
            StrainSpread = Number(options, "strain-spread", 0, 0, 3),
            Threads = Whole(options, "threads", 0, 0, 1024),
        };
    }

    private static Species SpeciesOf(string key) => BedCatalogue.BuiltIn.Species.GetValueOrDefault(key)
        ?? throw new VerbException($"--species: '{key}' is not in the catalogue; expected of {string.Join(", ", BedCatalogue.BuiltIn.Species.Keys)}, with commas between them.");

    private static int Whole(VerbOptions options, string name, int usual, int low, int high)
    {
        if (options.Optional(name) is not { } text)
            return usual;
        return int.TryParse(text, NumberStyles.Integer, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high
            ? value
            : throw new VerbException(string.Create(CultureInfo.InvariantCulture, $"--{name}: '{text}'; expected a whole number from {low} to {high}."));
    }

    private static double Number(VerbOptions options, string name, double? usual, double low, double high)
    {
        if ((usual is null ? options.Required(name) : options.Optional(name)) is not { } text)
            return usual!.Value;
        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high
            ? value
            : throw new VerbException(string.Create(CultureInfo.InvariantCulture, $"--{name}: '{text}'; expected a number from {low} to {high}, with a decimal point."));
    }
}
