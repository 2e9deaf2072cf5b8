using System.Globalization;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>Reads one bed material of a catalogue file.</summary>
internal static class MaterialReader
{
    public static Material Read(string key, CatalogueObject entry)
    {
        var sources = new SortedDictionary<string, string>(StringComparer.Ordinal);
        var fields = new SourcedFields(entry, "", sources);
        var name = Words.Read(entry, "name");
        var material = new Material(
            key,
            name.English,
            fields.Number("dry_bulk_density", Limits.AboveZeroTo(1500)),
            fields.Number("porosity", Limits.AboveZeroTo(0.99)),
            fields.Number("theta_cc", Limits.AboveZeroTo(0.99)),
            fields.Number("theta_water", Limits.AboveZeroTo(0.99)),
            fields.Number("theta_low", new Limits(0, 0.99)),
            fields.Number("settling", new Limits(0, 0.95)),
            fields.Number("decay", new Limits(0, 5)),
            fields.Number("drain_days", Limits.AboveZeroTo(30)),
            fields.Whole("flush_life", new Limits(1, 100)),
            fields.Number("mulch_store_mm_per_cm", new Limits(0, 10)))
        {
            Sources = sources.AsReadOnly(),
            Names = name.Others,
        };
        entry.Close();
        NoteDisorder(material, entry);
        return material;
    }

    // A value already noted is NaN, and comparisons with it are false: nothing is noted twice.
    private static void NoteDisorder(Material material, CatalogueObject entry)
    {
        if (material.ThetaLow >= material.ThetaWater)
            entry.Note("theta_low", Shown(material.ThetaLow), $"below theta_water {Shown(material.ThetaWater)}");
        if (material.ThetaWater >= material.ThetaCc)
            entry.Note("theta_water", Shown(material.ThetaWater), $"below theta_cc {Shown(material.ThetaCc)}");
        if (material.ThetaCc > material.Porosity)
            entry.Note("theta_cc", Shown(material.ThetaCc), $"at most the porosity {Shown(material.Porosity)}");
    }

    private static string Shown(double value) => value.ToString(CultureInfo.InvariantCulture);
}
