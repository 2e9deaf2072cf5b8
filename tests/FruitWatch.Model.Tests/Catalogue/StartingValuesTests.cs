using System.Text.Json;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Tests.Catalogue;

/// <summary>The catalogue's numbers against the starting values fixed for all implementations of the model.</summary>
public class StartingValuesTests
{
    private static readonly JsonElement s_fixed = Load();

    [Fact]
    public void Species_have_the_fixed_starting_values()
    {
        var species = s_fixed.GetProperty("species").EnumerateObject().ToList();

        Assert.Equal(species.Select(entry => entry.Name).Order(StringComparer.Ordinal), BedCatalogue.BuiltIn.Species.Keys);
        Assert.All(species, entry => AssertSpecies(entry.Value, BedCatalogue.BuiltIn.Species[entry.Name]));
    }

    [Fact]
    public void Materials_have_the_fixed_starting_values()
    {
        var materials = s_fixed.GetProperty("materials").EnumerateObject().ToList();

        Assert.Equal(materials.Select(entry => entry.Name).Order(StringComparer.Ordinal), BedCatalogue.BuiltIn.Materials.Keys);
        Assert.All(materials, entry => AssertMaterial(entry.Value, BedCatalogue.BuiltIn.Materials[entry.Name]));
    }

    [Theory]
    [InlineData(Cover.None, "none")]
    [InlineData(Cover.Sheet, "sheet")]
    [InlineData(Cover.PiercedSheet, "pierced-sheet")]
    public void Covers_let_through_the_fixed_shares(Cover cover, string name)
    {
        var shares = s_fixed.GetProperty("covers").GetProperty(name);

        Assert.Equal(new CoverEffect(Number(shares, "evaporation"), Number(shares, "rain")), BedCatalogue.BuiltIn.Covers[cover]);
    }

    [Fact]
    public void Forecast_error_has_the_fixed_starting_values()
    {
        var error = s_fixed.GetProperty("forecast_error");

        Assert.Equal(
            new ForecastErrorDefaults(
                Number(error, "s0_tmax"), Number(error, "s0_tmin"), Number(error, "sc_tmax"), Number(error, "sc_tmin"),
                Number(error, "lead_scale_days"), error.GetProperty("t_df").GetInt32()),
            BedCatalogue.BuiltIn.ForecastError);
    }

    [Fact]
    public void Learning_has_the_fixed_starting_values()
    {
        var learning = s_fixed.GetProperty("learning");

        Assert.Equal(
            new LearningDefaults(
                Number(learning, "sigma_evaporation"), Number(learning, "sigma_growth"), learning.GetProperty("pairs").GetInt32(),
                Number(learning, "sd_mc"), Number(learning, "sd_pins_days"), Number(learning, "sd_mycelium")),
            BedCatalogue.BuiltIn.Learning);
    }

    private static void AssertSpecies(JsonElement expected, Species species)
    {
        var run = expected.GetProperty("spawn_run");
        var pinning = expected.GetProperty("pinning");
        var growing = expected.GetProperty("growing");
        var triggers = expected.GetProperty("triggers");

        Assert.Equal(expected.GetProperty("name").GetString(), species.Name);
        Assert.Equal(expected.GetProperty("scientific_name").GetString(), species.ScientificName);
        Assert.Equal(expected.GetProperty("standing").GetString(), species.Standing);
        Assert.Equal(
            new SpawnRun(
                Number(run, "t_base"), Number(run, "t_opt"), Number(run, "t_ceiling"), Number(run, "q"), Number(run, "days_at_optimum"),
                Number(run, "spawn_rate"), run.GetProperty("earliest_ready_days").GetInt32(), Number(run, "t_harm")),
            species.SpawnRun);
        Assert.Equal(new Pinning(BandOf(pinning), Number(pinning, "days")), species.Pinning);
        Assert.Equal(new Growing(BandOf(growing), Number(growing, "days"), Number(growing, "killing_frost")), species.Growing);
        Assert.Equal(Number(expected, "picking_days"), species.PickingDays);
        Assert.Equal(Number(expected, "resting_days"), species.RestingDays);
        Assert.Equal(
            new Triggers(
                Part(triggers, "soak", soak => new SoakTrigger(Number(soak, "mm"), soak.GetProperty("days").GetInt32())),
                Part(triggers, "frost", frost => new FrostTrigger(Number(frost, "ground_min"), frost.GetProperty("nights").GetInt32())),
                Part(triggers, "cooling", cooling => new CoolingTrigger(Number(cooling, "delta"), Number(cooling, "mark")))),
            species.Triggers);
        Assert.Equal(expected.GetProperty("materials").EnumerateArray().Select(key => key.GetString()!), species.Materials);
    }

    private static void AssertMaterial(JsonElement expected, Material material)
    {
        var (names, sources) = (material.Names, material.Sources);

        Assert.Equal(
            new Material(
                material.Key, expected.GetProperty("name").GetString()!, Number(expected, "dry_bulk_density"), Number(expected, "porosity"),
                Number(expected, "theta_cc"), Number(expected, "theta_water"), Number(expected, "theta_low"), Number(expected, "settling"),
                Number(expected, "decay"), Number(expected, "drain_days"), expected.GetProperty("flush_life").GetInt32(),
                Number(expected, "mulch_store_mm_per_cm"))
            { Names = names, Sources = sources },
            material);
    }

    private static double Number(JsonElement of, string name) => of.GetProperty(name).GetDouble();

    private static Band BandOf(JsonElement of)
    {
        var band = of.GetProperty("band");
        return new Band(band[0].GetDouble(), band[1].GetDouble(), band[2].GetDouble(), band[3].GetDouble());
    }

    private static T? Part<T>(JsonElement of, string name, Func<JsonElement, T> read)
        where T : class =>
        of.GetProperty(name) is { ValueKind: JsonValueKind.Object } part ? read(part) : null;

    private static JsonElement Load()
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Checks", "Catalogue", "starting-values.json")));
        return document.RootElement.Clone();
    }
}
