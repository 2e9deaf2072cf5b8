using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.Primitives;

namespace FruitWatch.Service.Pages.Beds;

/// <summary>What stands in the form of a bed.</summary>
internal static class BedForm
{
    /// <summary>Layers that the form has room for.</summary>
    public const int Layers = 5;

    public static readonly IReadOnlyDictionary<string, FormUnit> Units = new Dictionary<string, FormUnit>
    {
        ["areaM2"] = new(1, "m²"),
        ["depthM"] = new(100, "cm"),
        ["shade"] = new(100, "%"),
        ["throughfall"] = new(100, "%"),
        ["mulchCm"] = new(1, "cm"),
        ["wetness"] = new(100, "%"),
        ["spawnKgPerM2"] = new(1, "kg/m²"),
        ["runOn"] = new(1, "×"),
        ["sunOffsetC"] = new(1, "°C"),
    };

    public static FormFields Empty(Words words, long siteId, string today) => new(
        words,
        new Dictionary<string, StringValues> { ["siteId"] = siteId.ToString(CultureInfo.InvariantCulture), ["inoculatedOn"] = today },
        Units);

    public static FormFields Of(Bed row, Words words)
    {
        var values = new Dictionary<string, StringValues>
        {
            ["version"] = row.Version.ToString(CultureInfo.InvariantCulture),
            ["siteId"] = row.SiteId.ToString(CultureInfo.InvariantCulture),
            ["name"] = row.Name,
            ["speciesKey"] = row.SpeciesKey,
            ["areaM2"] = FormFields.Shown(row.Area),
            ["inoculatedOn"] = ApiText.Day(row.InoculatedOn),
            ["retiredOn"] = row.RetiredOn is { } retired ? ApiText.Day(retired) : "",
            ["cover"] = ApiJson.WordOf(row.Cover),
            ["mulchCm"] = FormFields.Shown(row.MulchCm),
            ["mulchMaterialKey"] = row.MulchMaterialKey ?? "",
            ["shade"] = FormFields.Shown(100 * row.Shade),
            ["throughfall"] = FormFields.Shown(100 * row.Throughfall),
            ["wetness"] = FormFields.Shown(100 * row.Wetness),
            ["spawnKgPerM2"] = row.SpawnRate is { } rate ? FormFields.Shown(rate) : "",
            ["runOn"] = FormFields.Shown(row.RunOn),
            ["sunOffsetC"] = FormFields.Shown(row.SunOffset),
        };
        foreach (var (layer, i) in row.Layers.Select((layer, i) => (layer, i)))
        {
            values[Row(i, "materialKey")] = layer.MaterialKey;
            values[Row(i, "depthM")] = FormFields.Shown(100 * layer.Depth);
            values[Row(i, "laidOn")] = layer.LaidOn == row.InoculatedOn ? "" : ApiText.Day(layer.LaidOn);
        }

        return new FormFields(words, values, Units);
    }

    /// <summary>Name of a field of a layer.</summary>
    public static string Row(int layer, string field) => string.Create(CultureInfo.InvariantCulture, $"layers[{layer}].{field}");
}

/// <summary>A form of a bed, as it is shown.</summary>
/// <param name="Form">What stands in it.</param>
/// <param name="Site">Where it lies.</param>
/// <param name="Row">The bed; null for a new one.</param>
/// <param name="Catalogue">What can be chosen.</param>
internal sealed record BedFormShown(FormFields Form, Site Site, Bed? Row, BedCatalogue Catalogue)
{
    /// <summary>Rows for layers: all that there are, and some more.</summary>
    public int Rows => Math.Min(10, Math.Max(BedForm.Layers, (Row?.Layers.Count ?? 0) + 1));
}
