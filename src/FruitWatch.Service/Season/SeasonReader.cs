using System.Globalization;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;

namespace FruitWatch.Service.Season;

/// <summary>Reads what was asked; every field that is wrong is told at once.</summary>
internal sealed class SeasonReader(SeasonFields fields, BedCatalogue catalogue, Words words)
{
    /// <summary>Depths that the planner takes. [m]</summary>
    public const double ThinnestM = 0.02;

    /// <summary>See <see cref="ThinnestM"/>. [m]</summary>
    public const double DeepestM = 1;

    /// <summary>The deepest mulch that the planner takes. [cm]</summary>
    public const double MostMulchCm = 50;

    private static readonly BedPattern s_usual = new();

    private readonly Dictionary<string, string[]> errors = [];

    /// <summary>What is wrong, by field.</summary>
    public IReadOnlyDictionary<string, string[]> Errors => errors;

    /// <summary>The question, or null where a field is wrong.</summary>
    public SeasonQuestion? Read(SeasonAsked asked)
    {
        var species = SpeciesOf(asked.Species);
        var mulchCm = Number("mulchCm", asked.MulchCm, 0, MostMulchCm, "cm", 1) ?? s_usual.MulchCm;
        var mulch = MaterialOf("mulch", asked.Mulch);
        if (mulchCm > 0 && mulch is null)
            errors.TryAdd("mulch", [words.SeasonMulchUnnamed]);
        var pattern = new BedPattern
        {
            Material = MaterialOf("material", asked.Material),
            Depth = Number(fields.Depth, asked.Depth, ThinnestM, DeepestM, fields.DepthUnit, fields.DepthParts) ?? s_usual.Depth,
            Shade = Number(fields.Shade, asked.Shade, 0, 1, fields.ShadeUnit, fields.ShadeParts) ?? s_usual.Shade,
            MulchCm = mulchCm,
            // Mulch of no depth is none: the plan does not change with its name.
            Mulch = mulchCm > 0 ? mulch : null,
            Cover = CoverOf(asked.Cover),
        };
        return errors.Count == 0 ? new SeasonQuestion(species, pattern) : null;
    }

    private List<Species> SpeciesOf(IReadOnlyList<string> asked)
    {
        var keys = asked.SelectMany(some => some.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)).ToHashSet();
        if (keys.FirstOrDefault(key => !catalogue.Species.ContainsKey(key)) is { } unknown)
            errors["species"] = [words.SeasonOneOf(unknown, catalogue.Species.Keys)];
        return [.. catalogue.Species.Values.Where(species => keys.Count == 0 || keys.Contains(species.Key))];
    }

    private string? MaterialOf(string field, string? key)
    {
        if (string.IsNullOrEmpty(key))
            return null;
        if (!catalogue.Materials.ContainsKey(key))
            errors[field] = [words.SeasonOneOf(key, catalogue.Materials.Keys)];
        return key;
    }

    private Cover CoverOf(string? word)
    {
        if (string.IsNullOrEmpty(word))
            return s_usual.Cover;
        foreach (var cover in Enum.GetValues<Cover>())
        {
            if (ApiJson.WordOf(cover) == word)
                return cover;
        }

        errors["cover"] = [words.SeasonOneOf(word, ApiJson.WordsOf<Cover>())];
        return s_usual.Cover;
    }

    private double? Number(string field, string? text, double low, double high, string unit, double parts)
    {
        if (string.IsNullOrWhiteSpace(text))
            return null;
        // Written so that NaN fails, too. Compared as given: 2 cm is not below 0.02 m for the sake of a last binary digit.
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && number >= low * parts && number <= high * parts)
            return Math.Clamp(number / parts, low, high);
        errors[field] = [words.SeasonNumberBetween(low * parts, high * parts, unit)];
        return null;
    }
}
