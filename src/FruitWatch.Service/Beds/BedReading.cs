using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Store.Queries;
using BedRow = FruitWatch.Store.Entities.Bed;

namespace FruitWatch.Service.Beds;

/// <summary>A kept bed as the model reads it.</summary>
internal static class BedReading
{
    /// <exception cref="BedException">Its species or a material is not in the catalogue, or it has no layer.</exception>
    public static Bed ToModel(BedRow row, BedCatalogue catalogue)
    {
        var species = catalogue.Species.GetValueOrDefault(row.SpeciesKey)
            ?? throw new BedException("speciesKey", $"'{row.SpeciesKey}' is not a known species; expected {string.Join(", ", catalogue.Species.Keys)}.");
        if (row.Layers.Count == 0)
            throw new BedException("layers", "A bed needs at least one layer.");
        return new Bed(species, row.InoculatedOn, [.. row.Layers.Select(l => new Layer(MaterialOf(l.MaterialKey, "layers", catalogue), l.Depth, l.LaidOn))])
        {
            Area = row.Area,
            Shade = row.Shade,
            MulchCm = row.MulchCm,
            Mulch = row.MulchMaterialKey is { } mulch ? MaterialOf(mulch, "mulchMaterialKey", catalogue) : null,
            Cover = row.Cover,
            Wetness = row.Wetness,
            SpawnRate = row.SpawnRate,
            Throughfall = row.Throughfall,
            RunOn = row.RunOn,
            SunOffset = row.SunOffset,
            EvaporationMultiplier = row.EvaporationMultiplier,
            GrowthMultiplier = row.GrowthMultiplier,
        };
    }

    /// <summary>The log of a bed as the model reads it; entries of the gauge stand in the site's weather instead.</summary>
    public static IReadOnlyList<LogEntry> Log(BedData data, BedCatalogue catalogue) =>
    [
        .. data.Log
            .Where(row => row.On >= data.Bed.InoculatedOn)
            .Select(row => Service.Log.LogKinds.ToModel(row, data.Bed.Area, catalogue))
            .Where(entry => entry is not GaugeReading),
    ];

    private static Material MaterialOf(string key, string field, BedCatalogue catalogue) =>
        catalogue.Materials.GetValueOrDefault(key)
        ?? throw new BedException(field, $"'{key}' is not a known material; expected {string.Join(", ", catalogue.Materials.Keys)}.");
}

/// <summary>A bed that cannot be: names the field and what was expected of it.</summary>
internal sealed class BedException(string fieldName, string message) : Exception(message)
{
    /// <summary>Name of the field, as the API spells it.</summary>
    public string FieldName { get; } = fieldName;
}
