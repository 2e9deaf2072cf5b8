using FruitWatch.Model.Beds;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>What holds for every bed, each value with its source.</summary>
internal sealed record CommonDefaults(
    IReadOnlyDictionary<Cover, CoverEffect> Covers,
    ForecastErrorDefaults ForecastError,
    LearningDefaults Learning,
    IReadOnlyDictionary<string, string> Sources)
{
    /// <summary>Reads the file of defaults; notes what is wrong in it.</summary>
    public static CommonDefaults? Read(string json, List<CatalogueProblem> problems)
    {
        if (CatalogueFile.OpenRoot(json, problems) is not { } root)
            return null;
        var sources = new SortedDictionary<string, string>(StringComparer.Ordinal);
        var fields = new SourcedFields(root, "", sources);
        var defaults = new CommonDefaults(
            DefaultsReader.ReadCovers(fields.In("covers", "what each cover lets through")).AsReadOnly(),
            DefaultsReader.ReadForecastError(fields.In("forecast_error", "how wrong a forecast is")),
            DefaultsReader.ReadLearning(fields.In("learning", "the spreads that learning starts from")),
            sources.AsReadOnly());
        root.Close();
        return defaults;
    }
}
