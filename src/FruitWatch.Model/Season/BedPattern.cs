using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>The bed that a season is planned for: every species asked for gets one like it.</summary>
public sealed record BedPattern
{
    private const double ThinnestM = 0.02;
    private const double DeepestM = 1;
    private const double MostMulchCm = 50;

    /// <summary>Key of the material to fill it with; null for the usual one of each species.</summary>
    public string? Material { get; init; }

    /// <summary>Settled depth when laid. [m], 0.02…1</summary>
    public double Depth { get; init; } = 0.15;

    /// <summary>Share of open-sky radiation that the bed does not get. 0…1</summary>
    public double Shade { get; init; } = 0.5;

    /// <summary>Depth of loose mulch on top. [cm], 0…50</summary>
    public double MulchCm { get; init; }

    /// <summary>Key of the mulch's material; needed where there is mulch.</summary>
    public string? Mulch { get; init; }

    /// <summary>What lies over the bed, all the time.</summary>
    public Cover Cover { get; init; }

    /// <summary>Ground that it covers. [m²]; turns litres per m² into litres.</summary>
    public double Area { get; init; } = 1;

    /// <summary>Refuses a pattern that no bed can have.</summary>
    /// <exception cref="ArgumentException">Says what is wrong, where, and what would do.</exception>
    internal void Check(BedCatalogue catalogue)
    {
        CheckRange(nameof(Depth), Depth, ThinnestM, DeepestM, "m");
        CheckRange(nameof(Shade), Shade, 0, 1, "of the open sky's radiation kept off");
        CheckRange(nameof(MulchCm), MulchCm, 0, MostMulchCm, "cm");
        if (!double.IsFinite(Area) || Area <= 0)
            throw Wrong(nameof(Area), FormattableString.Invariant($"is {Area} m²; give the ground that the bed covers, above 0"));
        if (!Enum.IsDefined(Cover))
            throw Wrong(nameof(Cover), $"is {Cover}; give one of {string.Join(", ", Enum.GetNames<Cover>())}");
        if (Material is not null)
            CheckMaterial(nameof(Material), Material, catalogue);
        if (Mulch is not null)
            CheckMaterial(nameof(Mulch), Mulch, catalogue);
        else if (MulchCm > 0)
            throw Wrong(nameof(Mulch), FormattableString.Invariant($"is not named, but there are {MulchCm} cm of it; name its material, or give 0 cm"));
    }

    /// <summary>The bed of this pattern for a species.</summary>
    internal Bed For(Species species, BedCatalogue catalogue, LocalDate inoculated) =>
        new(species, inoculated, [new Layer(MaterialFor(species, catalogue), Depth, inoculated)])
        {
            Area = Area,
            Shade = Shade,
            MulchCm = MulchCm,
            Mulch = Mulch is null ? null : catalogue.Materials[Mulch],
            Cover = Cover,
        };

    private Material MaterialFor(Species species, BedCatalogue catalogue)
    {
        var key = Material ?? species.Materials[0];
        return catalogue.Materials.GetValueOrDefault(key)
            ?? throw new ArgumentException($"{species.Key} is usually grown on \"{key}\", which the catalogue does not have; name a material in the pattern.", nameof(species));
    }

    private static void CheckRange(string field, double value, double from, double to, string unit)
    {
        // Written so that NaN fails, too.
        if (!(value >= from && value <= to))
            throw Wrong(field, FormattableString.Invariant($"is {value}; give {from} to {to} {unit}"));
    }

    private static void CheckMaterial(string field, string key, BedCatalogue catalogue)
    {
        if (!catalogue.Materials.ContainsKey(key))
            throw Wrong(field, $"is \"{key}\", which is not in the catalogue; give one of {string.Join(", ", catalogue.Materials.Keys)}");
    }

    private static ArgumentException Wrong(string field, string what) => new($"The pattern's {field} {what}.", field);
}
