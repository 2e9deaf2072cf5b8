using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue.Reading;

namespace FruitWatch.Model.Catalogue;

/// <summary>
/// The species and materials that beds are made of, each value with its source. Immutable, so safe to share between threads.
/// </summary>
public sealed class BedCatalogue
{
    private static readonly Lazy<BedCatalogue> s_builtIn = new(LoadBuiltIn);

    private BedCatalogue(IDictionary<string, Species> species, IDictionary<string, Material> materials, CommonDefaults defaults)
    {
        Species = species.AsReadOnly();
        Materials = materials.AsReadOnly();
        Defaults = defaults;
    }

    /// <summary>What comes with the program.</summary>
    public static BedCatalogue BuiltIn => s_builtIn.Value;

    /// <summary>Species by key, in the order of their keys.</summary>
    public IReadOnlyDictionary<string, Species> Species { get; }

    /// <summary>Bed materials by key, in the order of their keys.</summary>
    public IReadOnlyDictionary<string, Material> Materials { get; }

    /// <summary>What each cover lets through.</summary>
    public IReadOnlyDictionary<Cover, CoverEffect> Covers => Defaults.Covers;

    /// <summary>How wrong a forecast is taken to be until the site's own errors are known.</summary>
    public ForecastErrorDefaults ForecastError => Defaults.ForecastError;

    /// <summary>The spreads that learning starts from.</summary>
    public LearningDefaults Learning => Defaults.Learning;

    /// <summary>Source of each value of <see cref="Covers"/>, <see cref="ForecastError"/> and <see cref="Learning"/>, by path in the file, such as <c>covers/sheet/rain</c>.</summary>
    public IReadOnlyDictionary<string, string> Sources => Defaults.Sources;

    private CommonDefaults Defaults { get; }

    /// <summary>
    /// Reads a grower's own species and materials. A species may name the file's materials and the built-in ones; the covers
    /// and the other defaults are always the built-in ones.
    /// </summary>
    /// <param name="json">A file of the form described in docs/catalogue.md.</param>
    /// <exception cref="CatalogueException">Something in it is wrong; lists everything that is.</exception>
    public static BedCatalogue Parse(string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        var file = CatalogueFile.Read(json, BuiltIn.Materials);
        return file.Problems.Count == 0
            ? new BedCatalogue(file.Species, file.Materials, BuiltIn.Defaults)
            : throw new CatalogueException(file.Problems);
    }

    /// <summary>This catalogue and a grower's own species and materials beside it.</summary>
    /// <exception cref="CatalogueException">
    /// A key is taken. Beds refer to their species by key, and warnings of lookalikes hang on it: no file may change what a
    /// key means.
    /// </exception>
    public BedCatalogue With(BedCatalogue own)
    {
        ArgumentNullException.ThrowIfNull(own);
        List<CatalogueProblem> taken =
        [
            .. own.Materials.Keys.Where(Materials.ContainsKey).Select(key => Taken("materials", key)),
            .. own.Species.Keys.Where(Species.ContainsKey).Select(key => Taken("species", key)),
        ];
        return taken.Count == 0
            ? new BedCatalogue(Joined(Species, own.Species), Joined(Materials, own.Materials), Defaults)
            : throw new CatalogueException(taken);
    }

    private static CatalogueProblem Taken(string section, string key) =>
        new($"/{section}/{key}", $"the key \"{key}\" that is in use", "another key");

    private static SortedDictionary<string, T> Joined<T>(IReadOnlyDictionary<string, T> one, IReadOnlyDictionary<string, T> other)
    {
        var joined = new SortedDictionary<string, T>(StringComparer.Ordinal);
        foreach (var (key, value) in one.Concat(other))
            joined.Add(key, value);
        return joined;
    }

    private static BedCatalogue LoadBuiltIn()
    {
        List<CatalogueProblem> problems = [];
        var materials = CatalogueFile.Read(BuiltInFiles.Read("catalogue/materials.json"), new Dictionary<string, Material>());
        problems.AddRange(materials.Problems);
        var defaults = CommonDefaults.Read(BuiltInFiles.Read("catalogue/defaults.json"), problems);
        var species = new SortedDictionary<string, Species>(StringComparer.Ordinal);
        foreach (var name in BuiltInFiles.Names("catalogue/species/"))
        {
            var file = CatalogueFile.Read(BuiltInFiles.Read(name), materials.Materials);
            problems.AddRange(file.Problems.Select(problem => problem with { Path = $"{name}#{problem.Path}" }));
            foreach (var (key, value) in file.Species)
                species.Add(key, value);
        }

        return problems.Count == 0 && defaults is not null
            ? new BedCatalogue(species, materials.Materials, defaults)
            : throw new CatalogueException(problems);
    }
}
