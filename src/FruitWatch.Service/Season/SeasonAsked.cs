using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;

namespace FruitWatch.Service.Season;

/// <summary>What a plan is asked for, as it came: text that may be wrong, null or empty where it was left out.</summary>
/// <param name="Species">Keys of species, each entry one or several with commas between.</param>
/// <param name="Material">Key of what the bed is filled with.</param>
/// <param name="Depth">Depth in the unit of its asker.</param>
/// <param name="Shade">Shade in the unit of its asker.</param>
/// <param name="MulchCm">Depth of the mulch, in cm.</param>
/// <param name="Mulch">Key of the mulch's material.</param>
/// <param name="Cover">What lies over the bed.</param>
internal sealed record SeasonAsked(
    IReadOnlyList<string> Species, string? Material, string? Depth, string? Shade, string? MulchCm, string? Mulch, string? Cover);

/// <summary>What the fields are called and measured in: metres and shares in the API, cm and per cent on the page.</summary>
/// <param name="Depth">Field of the depth.</param>
/// <param name="DepthUnit">Its unit as it is told.</param>
/// <param name="DepthParts">So many of them make a metre.</param>
/// <param name="Shade">Field of the shade.</param>
/// <param name="ShadeUnit">Its unit as it is told; empty for a share.</param>
/// <param name="ShadeParts">So many of them make the whole sky.</param>
internal sealed record SeasonFields(string Depth, string DepthUnit, double DepthParts, string Shade, string ShadeUnit, double ShadeParts)
{
    public static readonly SeasonFields OfApi = new("depthM", "m", 1, "shade", "", 1);
    public static readonly SeasonFields OfPage = new("depthCm", "cm", 100, "shadePercent", "%", 100);
}

/// <summary>A question that can be answered.</summary>
/// <param name="Species">At least one, none twice, in the catalogue's order.</param>
/// <param name="Pattern">The bed.</param>
internal sealed record SeasonQuestion(IReadOnlyList<Species> Species, BedPattern Pattern);
