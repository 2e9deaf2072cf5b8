using System.ComponentModel;
using FruitWatch.Model.Beds;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.OpenApi;
using NodaTime;
using BedRow = FruitWatch.Store.Entities.Bed;
using LayerRow = FruitWatch.Store.Entities.BedLayer;

namespace FruitWatch.Service.Beds;

/// <summary>A bed as the API gives it.</summary>
[Description("A bed as it was made. What happened to it is in its log, how it stands in its account.")]
internal sealed record BedBody(
    [property: Description("Key.")] long Id,
    [property: Description("Where it lies.")] long SiteId,
    [property: Description("What its growers call it.")] string Name,
    [property: Description("Species, by its key in the catalogue.")] string SpeciesKey,
    [property: Description("Ground that it covers, in m².")] double AreaM2,
    [property: Description("The site's local day on which the spawn went in.")] LocalDate InoculatedOn,
    [property: Description("What it was filled with, the lowest first.")] IReadOnlyList<LayerBody> Layers,
    [property: Description("Share of the sun kept off, 0 to 1.")] double Shade,
    [property: Description("Depth of the mulch, in cm.")] double MulchCm,
    [property: Description("What the mulch is; null where there is none.")] string? MulchMaterialKey,
    [property: Description("Cover on the day of inoculation.")] Cover Cover,
    [property: Description("Water on the day of inoculation, as a share of container capacity.")] double Wetness,
    [property: Description("Spawn used, in kg/m²; null for the species' usual rate.")] double? SpawnKgPerM2,
    [property: Description("Share of rain that comes through the trees above, 0 to 1.")] double Throughfall,
    [property: Description("Above 1 where the ground gathers water from beside the bed.")] double RunOn,
    [property: Description("Warming by the sun in the open, over the air's daily mean, in °C.")] double SunOffsetC,
    [property: Description("Day from which it is no longer watched; null while it is.")] LocalDate? RetiredOn)
{
    public static BedBody Of(BedRow row) => new(
        row.Id,
        row.SiteId,
        row.Name,
        row.SpeciesKey,
        row.Area,
        row.InoculatedOn,
        [.. row.Layers.OrderBy(layer => layer.Id).Select(layer => new LayerBody(layer.MaterialKey, layer.Depth, layer.LaidOn))],
        row.Shade,
        row.MulchCm,
        row.MulchMaterialKey,
        row.Cover,
        row.Wetness,
        row.SpawnRate,
        row.Throughfall,
        row.RunOn,
        row.SunOffset,
        row.RetiredOn);
}

/// <summary>A filling of a bed.</summary>
[Sent]
[Description("A filling, laid when the bed was made. Later ones are entries of its log.")]
internal sealed record LayerBody(
    [property: Description("What it is, by its key in the catalogue.")] string MaterialKey,
    [property: Description("Settled depth when laid, in m; 0.01 to 2.")] double DepthM,
    [property: Description("Day it was laid; the day of inoculation where left out.")] LocalDate? LaidOn);

/// <summary>A bed as it is sent.</summary>
[Description("A bed as it is made or changed. A change names all fields: what is left out goes back to its default.")]
internal sealed record BedChange(
    [property: Description("Key of its site.")] long SiteId,
    [property: Description("What its growers call it, 1 to 80 characters.")] string Name,
    [property: Description("Key of a species, see /species.")] string SpeciesKey,
    [property: Description("0.05 to 100000 m².")] double AreaM2,
    [property: Description("Day the spawn went in.")] LocalDate InoculatedOn,
    [property: Description("What it is filled with, the lowest first; 1 to 10.")] IReadOnlyList<LayerBody> Layers,
    [property: Description("0 to 1; 0 where left out.")] double? Shade,
    [property: Description("0 to 50 cm; 0 where left out.")] double? MulchCm,
    [property: Description("Key of a material; needed where there is mulch.")] string? MulchMaterialKey,
    [property: Description("none where left out.")] Cover? Cover,
    [property: Description("0 to 2; 1 where left out.")] double? Wetness,
    [property: Description("0.01 to 20 kg/m².")] double? SpawnKgPerM2,
    [property: Description("0 to 1; 1 where left out.")] double? Throughfall,
    [property: Description("0 to 10; 1 where left out.")] double? RunOn,
    [property: Description("0 to 3 °C; 0 where left out.")] double? SunOffsetC,
    [property: Description("Day from which it is no longer watched.")] LocalDate? RetiredOn) : IReadBody<BedChange>
{
    private static readonly LocalDate s_earliest = new(1950, 1, 1);
    private static readonly LocalDate s_latest = new(2200, 1, 1);

    public static BedChange Read(JsonFields fields) => Of(fields);

    public static BedChange Of(IFields fields)
    {
        var change = new BedChange(
            fields.Id("siteId", required: true) ?? 0,
            fields.Line("name", 80, required: true) ?? "",
            fields.Text("speciesKey", 80, required: true) ?? "",
            fields.Number("areaM2", 0.05, 100_000, required: true) ?? 0,
            fields.Date("inoculatedOn", required: true) ?? default,
            fields.List(
                "layers",
                10,
                layer => new LayerBody(
                    layer.Text("materialKey", 80, required: true) ?? "", layer.Number("depthM", 0.01, 2, required: true) ?? 0, layer.Date("laidOn")),
                required: true) ?? [],
            fields.Number("shade", 0, 1),
            fields.Number("mulchCm", 0, 50),
            fields.Text("mulchMaterialKey", 80),
            fields.Word<Cover>("cover"),
            fields.Number("wetness", 0, 2),
            fields.Number("spawnKgPerM2", 0.01, 20),
            fields.Number("throughfall", 0, 1),
            fields.Number("runOn", 0, 10),
            fields.Number("sunOffsetC", 0, 3),
            fields.Date("retiredOn"));
        if (fields.Good)
            change.Compare(fields);
        return change;
    }

    public void Put(BedRow row)
    {
        row.SiteId = SiteId;
        row.Name = Name;
        row.SpeciesKey = SpeciesKey;
        row.Area = AreaM2;
        row.InoculatedOn = InoculatedOn;
        row.Shade = Shade ?? 0;
        row.MulchCm = MulchCm ?? 0;
        row.MulchMaterialKey = MulchMaterialKey;
        row.Cover = Cover ?? Model.Beds.Cover.None;
        row.Wetness = Wetness ?? 1;
        row.SpawnRate = SpawnKgPerM2;
        row.Throughfall = Throughfall ?? 1;
        row.RunOn = RunOn ?? 1;
        row.SunOffset = SunOffsetC ?? 0;
        row.RetiredOn = RetiredOn;
        var layers = Layers.Select(layer => new LayerRow { MaterialKey = layer.MaterialKey, Depth = layer.DepthM, LaidOn = layer.LaidOn ?? InoculatedOn });
        // Left alone where nothing changed, so that their keys stay.
        if (row.Layers.Select(l => (l.MaterialKey, l.Depth, l.LaidOn)).SequenceEqual(layers.Select(l => (l.MaterialKey, l.Depth, l.LaidOn))))
            return;
        row.Layers.Clear();
        row.Layers.AddRange(layers);
    }

    // What only shows beside another field.
    private void Compare(IFields fields)
    {
        if (InoculatedOn < s_earliest || InoculatedOn > s_latest)
            fields.Refuse("inoculatedOn", words => words.DayBetween(s_earliest, s_latest));
        if (RetiredOn is { } retired && retired < InoculatedOn)
            fields.Refuse("retiredOn", words => words.BedRetiredBefore);
        if (MulchCm > 0 && string.IsNullOrEmpty(MulchMaterialKey))
            fields.Refuse("mulchMaterialKey", words => words.BedMulchOfWhat);
        for (var i = 0; i < Layers.Count; i++)
        {
            if (Layers[i].LaidOn is { } laid && (laid > InoculatedOn || laid < s_earliest))
                fields.Refuse(FormattableString.Invariant($"layers[{i}].laidOn"), words => words.BedLaidLater);
        }
    }
}
