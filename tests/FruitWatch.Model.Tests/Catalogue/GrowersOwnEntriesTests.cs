using System.Text.Json.Nodes;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Tests.Catalogue;

/// <summary>A grower's own species and materials beside the built-in ones.</summary>
public class GrowersOwnEntriesTests
{
    [Fact]
    public void Own_species_and_materials_stand_beside_the_built_in_ones()
    {
        var both = BedCatalogue.BuiltIn.With(BedCatalogue.Parse(OwnCatalogue.Json));

        Assert.Equal("Alder cap", both.Species["alder-cap"].Name);
        Assert.Equal(160, both.Materials["alder-chips"].DryBulkDensity);
        Assert.Same(BedCatalogue.BuiltIn.Species["wine-cap"], both.Species["wine-cap"]);
        Assert.Equal(14, both.Species.Count);
        Assert.Equal(7, both.Materials.Count);
        Assert.Equal(both.Species.Keys.Order(StringComparer.Ordinal), both.Species.Keys);
        Assert.Same(BedCatalogue.BuiltIn.Covers, both.Covers);
    }

    [Fact]
    public void The_built_in_catalogue_stays_as_it_was()
    {
        BedCatalogue.BuiltIn.With(BedCatalogue.Parse(OwnCatalogue.Json));

        Assert.Equal(13, BedCatalogue.BuiltIn.Species.Count);
        Assert.DoesNotContain("alder-chips", BedCatalogue.BuiltIn.Materials.Keys);
    }

    [Fact]
    public void An_own_species_may_grow_on_built_in_materials_alone()
    {
        var file = JsonNode.Parse(OwnCatalogue.Json)!;
        file.AsObject().Remove("materials");
        file["species"]!["alder-cap"]!["materials"]!["value"] = new JsonArray("sawdust");

        Assert.Equal(["sawdust"], BedCatalogue.Parse(file.ToJsonString()).Species["alder-cap"].Materials);
    }

    [Fact]
    public void A_key_that_is_taken_is_refused_so_that_no_file_can_change_a_built_in_warning()
    {
        var file = JsonNode.Parse(OwnCatalogue.Json)!;
        file["species"]!["wine-cap"] = file["species"]!["alder-cap"]!.DeepClone();
        file["materials"]!["sawdust"] = file["materials"]!["alder-chips"]!.DeepClone();
        var own = BedCatalogue.Parse(file.ToJsonString());

        var exception = Assert.Throws<CatalogueException>(() => BedCatalogue.BuiltIn.With(own));

        Assert.Equal(["/materials/sawdust", "/species/wine-cap"], exception.Problems.Select(problem => problem.Path));
        Assert.All(exception.Problems, problem => Assert.Equal("another key", problem.Expected));
    }

    [Fact]
    public void Two_growers_files_can_be_added_one_after_the_other()
    {
        var second = OwnCatalogue.Json
            .Replace("\"alder-cap\"", "\"birch-cap\"", StringComparison.Ordinal)
            .Replace("\"alder-chips\"", "\"birch-chips\"", StringComparison.Ordinal);

        var all = BedCatalogue.BuiltIn.With(BedCatalogue.Parse(OwnCatalogue.Json)).With(BedCatalogue.Parse(second));

        Assert.Equal(15, all.Species.Count);
        Assert.Equal(["birch-chips", "hardwood-chips"], all.Species["birch-cap"].Materials);
    }

    [Fact]
    public void A_warning_told_only_in_part_in_a_language_is_shown_in_English()
    {
        var lookalike = BedCatalogue.Parse(OwnCatalogue.Json).Species["alder-cap"].Lookalikes[0];

        Assert.Same(lookalike, lookalike.InLanguage("es"));
    }
}
