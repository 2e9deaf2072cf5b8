using System.ComponentModel;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using Microsoft.AspNetCore.Http.HttpResults;

namespace FruitWatch.Service.Beds;

/// <summary>Species and materials in the web API: what a bed can be made of.</summary>
internal static class CatalogueApi
{
    public static void MapCatalogue(this IEndpointRouteBuilder api)
    {
        api.MapGet("/species", Species).Needs(Right.ReadBeds).WithTags("Catalogue").WithName("ListSpecies")
            .WithSummary("Species that can be sown, with the dangerous fungi that each can be taken for.");
        api.MapGet("/materials", Materials).Needs(Right.ReadBeds).WithTags("Catalogue").WithName("ListMaterials").WithSummary("What beds can be filled and mulched with.");
    }

    private static Ok<Listing<SpeciesBody>> Species(BedCatalogue catalogue) =>
        TypedResults.Ok(new Listing<SpeciesBody>([.. catalogue.Species.Values.Select(SpeciesBody.Of)], null));

    private static Ok<Listing<MaterialBody>> Materials(BedCatalogue catalogue) =>
        TypedResults.Ok(new Listing<MaterialBody>([.. catalogue.Materials.Values.Select(MaterialBody.Of)], null));
}

/// <summary>A species as the API gives it.</summary>
[Description("A species. Whoever shows pins or harvest dates has to show its lookalikes with them.")]
internal sealed record SpeciesBody(
    [property: Description("Key.")] string Key,
    [property: Description("English name.")] string Name,
    [property: Description("Names in other languages, by two-letter code.")] IReadOnlyDictionary<string, string> Names,
    [property: Description("Scientific name.")] string ScientificName,
    [property: Description("Keys of the materials it is grown on, the usual one first.")] IReadOnlyList<string> Materials,
    [property: Description("Temperatures at which it pins.")] BandBody PinningC,
    [property: Description("Temperatures at which a flush grows.")] BandBody GrowingC,
    [property: Description("Dangerous fungi that can be taken for it.")] IReadOnlyList<LookalikeBody> Lookalikes,
    [property: Description("Further advice on safety.")] IReadOnlyList<string> Cautions,
    [property: Description("How well its numbers are known.")] string Standing)
{
    public static SpeciesBody Of(Species species) => new(
        species.Key,
        species.Name,
        species.Names,
        species.ScientificName,
        species.Materials,
        BandBody.Of(species.Pinning.Band),
        BandBody.Of(species.Growing.Band),
        [.. species.Lookalikes.Select(other => new LookalikeBody(other.Name, other.Danger, other.Tell))],
        [.. species.Cautions.Select(caution => caution.Text)],
        species.Standing);
}

/// <summary>A band of temperatures as the API gives it.</summary>
[Description("No response at or below the first and at or above the last, full response between the two in the middle; in °C.")]
internal sealed record BandBody(
    [property: Description("None at or below.")] double ZeroBelow,
    [property: Description("Full from here.")] double FullFrom,
    [property: Description("Full up to here.")] double FullTo,
    [property: Description("None at or above.")] double ZeroAbove)
{
    public static BandBody Of(Band band) => new(band.ZeroBelow, band.FullFrom, band.FullTo, band.ZeroAbove);
}

/// <summary>A lookalike as the API gives it.</summary>
[Description("A fungus that can be mistaken for the species.")]
internal sealed record LookalikeBody(
    [property: Description("Its name.")] string Name,
    [property: Description("What it does.")] string Danger,
    [property: Description("How it differs.")] string Tell);

/// <summary>A material as the API gives it.</summary>
[Description("A material for beds. Water contents are volumes of water per volume of bed.")]
internal sealed record MaterialBody(
    [property: Description("Key.")] string Key,
    [property: Description("English name.")] string Name,
    [property: Description("Names in other languages, by two-letter code.")] IReadOnlyDictionary<string, string> Names,
    [property: Description("Dry mass per volume, settled, in kg/m³.")] double DryBulkDensityKgPerM3,
    [property: Description("Space between and inside the pieces, 0 to 1.")] double Porosity,
    [property: Description("Water held after draining, 0 to 1.")] double ContainerCapacity,
    [property: Description("Water at which to water, 0 to 1.")] double WaterMark,
    [property: Description("Practical lower limit of drying, 0 to 1.")] double LowerLimit,
    [property: Description("Flushes that a filling gives.")] int FlushLife)
{
    public static MaterialBody Of(Material material) => new(
        material.Key,
        material.Name,
        material.Names,
        material.DryBulkDensity,
        material.Porosity,
        material.ThetaCc,
        material.ThetaWater,
        material.ThetaLow,
        material.FlushLife);
}
