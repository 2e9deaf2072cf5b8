using System.Text.RegularExpressions;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Tests.Catalogue;

/// <summary>What a grower can count on in every entry that comes with the program.</summary>
public partial class BuiltInCatalogueTests
{
    public static TheoryData<string> SpeciesKeys => [.. BedCatalogue.BuiltIn.Species.Keys];

    public static TheoryData<string> MaterialKeys => [.. BedCatalogue.BuiltIn.Materials.Keys];

    [Fact]
    public void It_holds_thirteen_species_six_materials_and_every_cover()
    {
        var catalogue = BedCatalogue.BuiltIn;

        Assert.Equal(13, catalogue.Species.Count);
        Assert.Equal(6, catalogue.Materials.Count);
        Assert.Equal(Enum.GetValues<Cover>().Order(), catalogue.Covers.Keys.Order());
    }

    [Fact]
    public void Species_and_materials_come_in_the_order_of_their_keys()
    {
        Assert.Equal(BedCatalogue.BuiltIn.Species.Keys.Order(StringComparer.Ordinal), BedCatalogue.BuiltIn.Species.Keys);
        Assert.Equal(BedCatalogue.BuiltIn.Materials.Keys.Order(StringComparer.Ordinal), BedCatalogue.BuiltIn.Materials.Keys);
    }

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void A_species_key_is_found_again_in_its_entry(string key) => Assert.Equal(key, BedCatalogue.BuiltIn.Species[key].Key);

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void Mycelium_grows_between_its_limits_and_is_harmed_only_above_its_best(string key)
    {
        var run = BedCatalogue.BuiltIn.Species[key].SpawnRun;

        Assert.True(run.TBase < run.TOpt && run.TOpt < run.TCeiling && run.TOpt < run.THarm);
        Assert.InRange(run.Q, 1.0, 1.7); // Yin et al. 1995, exponent c; range left open by Soylu et al. 2016
        Assert.True(run.DaysAtOptimum > 0 && run.SpawnRate > 0 && run.EarliestReadyDays > 0);
    }

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void Temperature_bands_do_not_fall_and_stages_take_time(string key)
    {
        var species = BedCatalogue.BuiltIn.Species[key];

        foreach (var band in new[] { species.Pinning.Band, species.Growing.Band })
            Assert.True(band.ZeroBelow < band.FullFrom && band.FullFrom <= band.FullTo && band.FullTo < band.ZeroAbove);
        Assert.All([species.Pinning.Days, species.Growing.Days, species.PickingDays, species.RestingDays], days => Assert.True(days > 0));
        Assert.True(species.Growing.KillingFrost < species.Growing.Band.FullFrom);
    }

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void A_species_is_grown_on_materials_of_the_catalogue(string key)
    {
        Assert.NotEmpty(BedCatalogue.BuiltIn.Species[key].Materials);
        Assert.All(BedCatalogue.BuiltIn.Species[key].Materials, material => Assert.Contains(material, BedCatalogue.BuiltIn.Materials.Keys));
    }

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void Every_value_of_a_species_has_its_source(string key)
    {
        var species = BedCatalogue.BuiltIn.Species[key];
        string[] always =
        [
            "spawn_run/t_base", "spawn_run/t_opt", "spawn_run/t_ceiling", "spawn_run/q", "spawn_run/days_at_optimum",
            "spawn_run/spawn_rate", "spawn_run/earliest_ready_days", "spawn_run/t_harm", "pinning/band", "pinning/days",
            "growing/band", "growing/days", "growing/killing_frost", "picking_days", "resting_days", "materials",
        ];
        string[] triggers =
        [
            .. species.Triggers.Soak is null ? ["triggers/soak"] : new[] { "triggers/soak/mm", "triggers/soak/days" },
            .. species.Triggers.Frost is null ? ["triggers/frost"] : new[] { "triggers/frost/ground_min", "triggers/frost/nights" },
            .. species.Triggers.Cooling is null ? ["triggers/cooling"] : new[] { "triggers/cooling/delta", "triggers/cooling/mark" },
        ];

        Assert.Equal(always.Concat(triggers).Order(StringComparer.Ordinal), species.Sources.Keys.Order(StringComparer.Ordinal));
        Assert.All(species.Sources.Values, AssertSaysWhereFrom);
    }

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void Every_species_has_a_lookalike_told_in_English_and_Spanish(string key)
    {
        var lookalikes = BedCatalogue.BuiltIn.Species[key].Lookalikes;

        Assert.NotEmpty(lookalikes);
        foreach (var lookalike in lookalikes)
        {
            var spanish = lookalike.InLanguage("es");
            AssertSaysWhereFrom(lookalike.Source);
            Assert.All([lookalike.Name, lookalike.Danger, lookalike.Tell, spanish.Name], word => Assert.False(string.IsNullOrWhiteSpace(word)));
            Assert.NotEqual(lookalike.Danger, spanish.Danger);
            Assert.NotEqual(lookalike.Tell, spanish.Tell);
        }
    }

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void Every_species_has_cautions_told_in_English_and_Spanish(string key)
    {
        var cautions = BedCatalogue.BuiltIn.Species[key].Cautions;

        Assert.NotEmpty(cautions);
        Assert.All(cautions, caution => AssertSaysWhereFrom(caution.Source));
        Assert.All(cautions, caution => Assert.NotEqual(caution.Text, caution.TextIn("es")));
    }

    [Theory]
    [MemberData(nameof(SpeciesKeys))]
    public void A_species_has_a_Spanish_name_and_standing_and_English_ones_for_any_other_language(string key)
    {
        var species = BedCatalogue.BuiltIn.Species[key];

        Assert.True(species.Names.ContainsKey("es") && species.Standings.ContainsKey("es"));
        Assert.Equal(species.Name, species.NameIn("de"));
        Assert.Equal(species.Standing, species.StandingIn("de"));
    }

    [Theory]
    [MemberData(nameof(MaterialKeys))]
    public void A_material_waters_between_its_driest_and_what_it_can_hold(string key)
    {
        var material = BedCatalogue.BuiltIn.Materials[key];

        Assert.Equal(key, material.Key);
        Assert.True(material.ThetaLow < material.ThetaWater && material.ThetaWater < material.ThetaCc && material.ThetaCc <= material.Porosity);
        Assert.InRange(material.Settling, 0, 0.95);
        Assert.All([material.DryBulkDensity, material.Decay, material.DrainDays, material.FlushLife, material.MulchStorePerCm], value => Assert.True(value > 0));
    }

    [Theory]
    [MemberData(nameof(MaterialKeys))]
    public void Every_value_of_a_material_has_its_source_and_the_material_a_Spanish_name(string key)
    {
        var material = BedCatalogue.BuiltIn.Materials[key];

        Assert.Equal(10, material.Sources.Count);
        Assert.All(material.Sources.Values, AssertSaysWhereFrom);
        Assert.NotEqual(material.Name, material.NameIn("es"));
        Assert.Equal(material.Name, material.NameIn("de"));
    }

    [Fact]
    public void Every_default_has_its_source()
    {
        Assert.Equal((3 * 2) + 6 + 6, BedCatalogue.BuiltIn.Sources.Count);
        Assert.All(BedCatalogue.BuiltIn.Sources.Values, AssertSaysWhereFrom);
    }

    [Fact]
    public void Golden_oyster_is_advised_against_outdoors_in_eastern_North_America() =>
        Assert.Contains(BedCatalogue.BuiltIn.Species["oyster-golden"].Cautions, caution => caution.Text.Contains("Do not plant it outdoors in eastern North America", StringComparison.Ordinal));

    // A publication and how much of it was read, or an honest word that there is none.
    private static void AssertSaysWhereFrom(string source) => Assert.Matches(WhereFrom(), source);

    [GeneratedRegex(@"derived|common practice, no source|by definition|see \w+|bulletin|FAO-56|\((abstract|table|from memory|attribution from memory|extension notes|summary|article|as copied|as quoted|as transcribed|table, as transcribed|field guide|data-set description)|table \d", RegexOptions.CultureInvariant)]
    private static partial Regex WhereFrom();
}
