using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Tests.Catalogue;

/// <summary>Species' values against figures that were published, where there are any.</summary>
public class PublishedLimitsTests
{
    [Theory]
    // Chinese extension summary on S. rugosoannulata: grows at 5 °C, stops above 36 °C
    [InlineData("wine-cap", 5, 36)]
    // Chang & Miles 2004, Mushrooms, temperature table (from memory)
    [InlineData("oyster-cold", 5, 37)]
    // Chinese note on a small-capped form of P. pulmonarius: nearly stops below 10 °C, stops above 37 °C
    [InlineData("oyster-warm", 10, 37)]
    // Chinese cultivation entry for P. citrinopileatus: 7–32 °C
    [InlineData("oyster-golden", 7, 32)]
    // Stamets 2000, Growing Gourmet and Medicinal Mushrooms (from memory); the upper limit is uncertain, 35–40 °C
    [InlineData("oyster-pink", 10, 40)]
    // Stamets & Chilton 1983, The Mushroom Cultivator: 40 °F and 86 °F
    [InlineData("wood-blewit", 4.4, 30)]
    // Japanese shiitake manual: trace of growth at 3–4 °C; Chinese shiitake biology: stops above 36 °C
    [InlineData("shiitake", 3, 36)]
    // Chinese cultivation entry for A. blazei: 10–37 °C
    [InlineData("almond-agaricus", 10, 37)]
    // Chang & Miles 2004, Mushrooms, temperature table (from memory)
    [InlineData("shaggy-mane", 3, 35)]
    [InlineData("nameko", 5, 33)]
    // Grigansky, Solomko & Kirchhoff 1999: no growth at 3 or at 37 °C in 14 strains
    [InlineData("lions-mane", 3, 37)]
    public void Mycelium_is_not_made_to_grow_beyond_published_limits(string key, double lowest, double highest)
    {
        var run = BedCatalogue.BuiltIn.Species[key].SpawnRun;

        Assert.True(run.TBase >= lowest, $"{run.TBase} °C");
        Assert.True(run.TCeiling <= highest, $"{run.TCeiling} °C");
    }

    [Theory]
    // Lecture notes of a Chinese edible-fungus association: 24–28 °C; Bonenfant-Magne et al. 1997: 25 °C
    [InlineData("wine-cap", 24, 28)]
    // Chinese note on oyster types: from 22 °C; Zervakis et al. 2001: 30 °C
    [InlineData("oyster-cold", 22, 30)]
    // Chinese note on P. pulmonarius: from 25 °C; Zervakis et al. 2001: 30 °C
    [InlineData("oyster-warm", 25, 30)]
    // Chinese cultivation entry for P. citrinopileatus
    [InlineData("oyster-golden", 23, 27)]
    // Stamets 2000 (from memory)
    [InlineData("oyster-pink", 24, 30)]
    // Stamets & Chilton 1983: 70–75 °F
    [InlineData("wood-blewit", 21, 24)]
    // Japanese shiitake manual; Mata & Mishra 2015: 25 °C
    [InlineData("shiitake", 24, 26)]
    // Colauto et al. 2008: 28–31 °C on agar
    [InlineData("almond-agaricus", 28, 31)]
    // Jang et al. 2009
    [InlineData("shaggy-mane", 23, 26)]
    // Chang & Miles 2004 (from memory)
    [InlineData("nameko", 24, 26)]
    // Stamets 2000 (from memory)
    [InlineData("brick-cap", 21, 27)]
    // In-vitro study of H. ulmarius 2020: faster at 25 than at 30 °C
    [InlineData("elm-oyster", 21, 30)]
    // Chinese cultivation note: about 25 °C; Grigansky et al. 1999: 26 °C
    [InlineData("lions-mane", 25, 26)]
    public void The_best_temperature_of_growth_is_a_published_one(string key, double lowest, double highest) =>
        Assert.InRange(BedCatalogue.BuiltIn.Species[key].SpawnRun.TOpt, lowest, highest);

    [Theory]
    // Best 10–25 °C, Chinese extension summary; limits 4 and 30 °C, Chinese lecture notes
    [InlineData("wine-cap", 4, 10, 25, 30)]
    // Cold strains, Chinese note on oyster types
    [InlineData("oyster-cold", 4, 10, 18, 25)]
    // Stamets 2000, table: 18–27 °C, tolerates 10–32 °C
    [InlineData("oyster-warm", 10, 18, 27, 32)]
    // Chinese cultivation entry for P. citrinopileatus
    [InlineData("oyster-golden", 10, 15, 25, 28)]
    // Stamets 2000 (from memory)
    [InlineData("oyster-pink", 15, 20, 30, 35)]
    // Chinese notes on shiitake biology
    [InlineData("shiitake", 5, 12, 17, 24)]
    // Chinese cultivation entry for A. blazei
    [InlineData("almond-agaricus", 17, 20, 25, 33)]
    // Chinese cultivation note on H. erinaceus
    [InlineData("lions-mane", 6, 16, 20, 25)]
    public void Fruit_grows_in_the_published_band(string key, double zeroBelow, double fullFrom, double fullTo, double zeroAbove) =>
        Assert.Equal(new Band(zeroBelow, fullFrom, fullTo, zeroAbove), BedCatalogue.BuiltIn.Species[key].Growing.Band);

    [Theory]
    // Stamets 2000 (from memory for wine cap, pink oyster, shiitake, almond, shaggy mane, nameko; table for the others)
    [InlineData("wine-cap", 7, 14)]
    [InlineData("oyster-cold", 4, 7)]
    [InlineData("oyster-warm", 3, 5)]
    [InlineData("oyster-pink", 3, 5)]
    [InlineData("shiitake", 5, 14)]
    [InlineData("almond-agaricus", 5, 10)]
    [InlineData("shaggy-mane", 5, 10)]
    [InlineData("nameko", 5, 8)]
    [InlineData("brick-cap", 7, 14)]
    [InlineData("elm-oyster", 4, 7)]
    [InlineData("lions-mane", 4, 12)]
    public void Pins_take_a_published_time_to_grow(string key, double fewest, double most) =>
        Assert.InRange(BedCatalogue.BuiltIn.Species[key].Growing.Days, fewest, most);

    [Fact]
    public void Wine_cap_cannot_fruit_before_the_fastest_bed_on_record()
    {
        var species = BedCatalogue.BuiltIn.Species["wine-cap"];

        // 44 days from 30 August in Missouri: University of Missouri research abstract (repository item 10355/1545)
        Assert.True(species.SpawnRun.EarliestReadyDays + species.Pinning.Days + species.Growing.Days >= 44);
    }

    [Theory]
    // Container capacity and watering level as wet-basis moisture: composting handbooks call 40–65 % acceptable and
    // 50–60 % ideal for decomposers; fibrous material holds more and still breathes.
    [InlineData("hardwood-chips")]
    [InlineData("sawdust")]
    [InlineData("cereal-straw")]
    [InlineData("shredded-leaves")]
    [InlineData("leaf-mould")]
    [InlineData("composted-manure")]
    public void A_bed_is_watered_at_a_moisture_that_suits_decomposers(string key)
    {
        var material = BedCatalogue.BuiltIn.Materials[key];
        var water = 1000 * material.ThetaWater;

        Assert.InRange(water / (water + material.DryBulkDensity), 0.50, 0.60);
    }

    [Theory]
    // Solids take room: 1500 kg/m³ for wood cell wall (USDA Wood Handbook, from memory), 1300 for organic matter (de Vries 1963)
    [InlineData("hardwood-chips", 1500)]
    [InlineData("sawdust", 1500)]
    [InlineData("cereal-straw", 1500)]
    [InlineData("shredded-leaves", 1300)]
    public void Porosity_agrees_with_density(string key, double solid)
    {
        var material = BedCatalogue.BuiltIn.Materials[key];

        Assert.Equal(1 - (material.DryBulkDensity / solid), material.Porosity, 0.005);
    }
}
