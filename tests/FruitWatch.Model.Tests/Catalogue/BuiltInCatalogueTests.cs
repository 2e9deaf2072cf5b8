using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Tests.Catalogue;

public class BuiltInCatalogueTests
{
    [Fact]
    public void It_holds_thirteen_species_six_materials_and_three_covers()
    {
        var catalogue = BedCatalogue.BuiltIn;

        Assert.Equal(13, catalogue.Species.Count);
        Assert.Equal(6, catalogue.Materials.Count);
        Assert.Equal(3, catalogue.Covers.Count);
    }
}
