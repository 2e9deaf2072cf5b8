using System.Globalization;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>Reads one species of a catalogue file.</summary>
internal static class SpeciesReader
{
    private static readonly Limits s_bedTemperature = new(-20, 60);
    private static readonly Limits s_days = Limits.AboveZeroTo(1500);

    // Yin et al. 1995; 1.0–1.7 is what growth measured in Pleurotus leaves room for (Soylu et al. 2016).
    private static readonly Limits s_sharpness = new(1.0, 1.7);

    public static Species Read(string key, CatalogueObject entry)
    {
        var sources = new SortedDictionary<string, string>(StringComparer.Ordinal);
        var fields = new SourcedFields(entry, "", sources);
        var name = Words.Read(entry, "name");
        var standing = Words.Read(entry, "standing");
        var species = new Species(
            key,
            name.English,
            entry.Text("scientific_name", "a binomial"),
            ReadSpawnRun(entry, fields.In("spawn_run", "how the mycelium grows")),
            ReadPinning(fields.In("pinning", "when pins form")),
            ReadGrowing(fields.In("growing", "when pins grow")),
            fields.Number("picking_days", s_days),
            fields.Number("resting_days", s_days),
            ReadTriggers(fields.In("triggers", "what a ready bed waits for; {} for nothing")),
            fields.Texts("materials", "keys of materials, the usual one first"),
            standing.English)
        {
            Lookalikes = [.. entry.Objects("lookalikes", 1, "at least one fungus that can be taken for it").Select(ReadLookalike)],
            Cautions = entry.May("cautions") ? [.. entry.Objects("cautions", 0, "a list of cautions").Select(ReadCaution)] : [],
            Sources = sources.AsReadOnly(),
            Names = name.Others,
            Standings = standing.Others,
        };
        entry.Close();
        return species;
    }

    private static SpawnRun ReadSpawnRun(CatalogueObject entry, SourcedFields fields)
    {
        var run = new SpawnRun(
            fields.Number("t_base", s_bedTemperature),
            fields.Number("t_opt", s_bedTemperature),
            fields.Number("t_ceiling", s_bedTemperature),
            fields.Number("q", s_sharpness),
            fields.Number("days_at_optimum", s_days),
            fields.Number("spawn_rate", Limits.AboveZeroTo(20)),
            fields.Whole("earliest_ready_days", s_days),
            fields.Number("t_harm", s_bedTemperature));
        fields.Close();

        // A value already noted is NaN, and comparisons with it are false: nothing is noted twice.
        if (run.TBase >= run.TOpt || run.TOpt >= run.TCeiling)
            entry.Note("spawn_run/t_opt", Shown(run.TOpt), $"above t_base {Shown(run.TBase)} and below t_ceiling {Shown(run.TCeiling)}");
        if (run.THarm <= run.TOpt)
            entry.Note("spawn_run/t_harm", Shown(run.THarm), $"above t_opt {Shown(run.TOpt)}");
        return run;
    }

    private static Pinning ReadPinning(SourcedFields fields)
    {
        var pinning = new Pinning(fields.Band("band", s_bedTemperature), fields.Number("days", s_days));
        fields.Close();
        return pinning;
    }

    private static Growing ReadGrowing(SourcedFields fields)
    {
        var growing = new Growing(
            fields.Band("band", s_bedTemperature), fields.Number("days", s_days), fields.Number("killing_frost", new Limits(-30, 10)));
        fields.Close();
        return growing;
    }

    private static Triggers ReadTriggers(SourcedFields fields)
    {
        var triggers = new Triggers(
            fields.Optional("soak", soak => new SoakTrigger(soak.Number("mm", Limits.AboveZeroTo(200)), soak.Whole("days", new Limits(1, 60)))),
            fields.Optional("frost", frost => new FrostTrigger(frost.Number("ground_min", new Limits(-20, 5)), frost.Whole("nights", new Limits(1, 60)))),
            fields.Optional("cooling", cooling => new CoolingTrigger(cooling.Number("delta", Limits.AboveZeroTo(30)), cooling.Number("mark", new Limits(-10, 40)))));
        fields.Close();
        return triggers;
    }

    private static Lookalike ReadLookalike(CatalogueObject entry)
    {
        var name = Words.Read(entry, "name");
        var danger = Words.Read(entry, "danger");
        var tell = Words.Read(entry, "tell");
        var source = entry.Text("source", "who says so");
        entry.Close();

        // A language counts only where all three are told in it: half a warning is worse than one in English.
        var languages = name.Others.Keys.Intersect(danger.Others.Keys).Intersect(tell.Others.Keys);
        return new Lookalike(name.English, danger.English, tell.English)
        {
            Source = source,
            In = languages.ToDictionary(
                language => language,
                language => new Lookalike(name.Others[language], danger.Others[language], tell.Others[language]) { Source = source },
                StringComparer.Ordinal),
        };
    }

    private static Caution ReadCaution(CatalogueObject entry)
    {
        var source = entry.Text("source", "who says so");
        var text = Words.ReadAll(entry);
        return new Caution(text.English, source) { Texts = text.Others };
    }

    private static string Shown(double value) => value.ToString(CultureInfo.InvariantCulture);
}
