using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Log;

/// <summary>
/// The kinds of log entry, as they are kept and as the API spells them. A new kind is a line in <see cref="s_readings"/>, its effect
/// in the model's account.
/// </summary>
internal static class LogKinds
{
    public const string Watered = "watered";
    public const string Gauge = "gauge";
    public const string Squeeze = "squeeze";
    public const string Moisture = "moisture";
    public const string Cover = "cover";
    public const string Mycelium = "mycelium";
    public const string Pins = "pins";
    public const string NoPins = "no-pins";
    public const string Picked = "picked";
    public const string FlushOver = "flush-over";
    public const string ToppedUp = "topped-up";
    public const string Contamination = "contamination";
    public const string SpawnTaken = "spawn-taken";
    public const string Spent = "spent";

    private static readonly Dictionary<string, Func<Entry, LogEntry>> s_readings = new()
    {
        [Watered] = e => new WaterGiven(e.On, e.Amount("litres", 0.1, 100_000) / e.Area),
        [Gauge] = e => new GaugeReading(e.On, e.Amount("mm", 0, 2000)),
        [Squeeze] = e => new SqueezeTest(e.On, e.Choice<Squeeze>("crumbles, right or dripping")),
        [Moisture] = e => new MoistureMeasured(e.On, e.Amount("share of water, wet basis", 0.01, 0.99)),
        [Cover] = e => new CoverChanged(e.On, e.Choice<Cover>("none, sheet or pierced-sheet")),
        [Mycelium] = e => new MyceliumSeen(e.On, e.Amount("share of the bed", 0, 1)),
        [Pins] = e => new PinsSeen(e.On),
        [NoPins] = e => new NoPinsFound(e.On),
        [Picked] = e => new Picked(e.On, e.Amount("kg", 0, 10_000)),
        [FlushOver] = e => new FlushOver(e.On),
        [ToppedUp] = e => new ToppedUp(e.On, e.Material(), e.Depth()),
        [Contamination] = e => new ContaminationSeen(e.On),
        [SpawnTaken] = e => new SpawnTaken(e.On),
        [Spent] = e => new BedSpent(e.On),
    };

    /// <summary>All kinds, in the order a grower meets them.</summary>
    public static IReadOnlyCollection<string> All => s_readings.Keys;

    /// <summary>The entry as the model reads it.</summary>
    /// <exception cref="LogEntryException">A value is missing, unknown or out of range.</exception>
    public static LogEntry ToModel(LogRow row, double areaM2, BedCatalogue catalogue) =>
        s_readings.TryGetValue(row.Kind, out var read)
            ? read(new Entry(row, areaM2, catalogue)) with { Time = row.At }
            : throw new LogEntryException("kind", $"'{row.Kind}' is not known; expected {string.Join(", ", All)}.");

    private sealed record Entry(LogRow Row, double Area, BedCatalogue Catalogue)
    {
        public LocalDate On => Row.On;

        public double Amount(string what, double low, double high) => Within("amount", what, Row.Amount, low, high);

        public double Depth() => Within("depth", "depth in m", Row.Depth, 0.005, 3);

        public T Choice<T>(string choices)
            where T : struct, Enum =>
            Row.Text is { } text && !int.TryParse(text, out _)
            && Enum.TryParse<T>(text.Replace("-", "", StringComparison.Ordinal), ignoreCase: true, out var choice)
                ? choice
                : throw new LogEntryException("text", $"'{Row.Text}' is not known; expected {choices}.");

        public Material Material() => Row.Text is { } key && Catalogue.Materials.TryGetValue(key, out var material)
            ? material
            : throw new LogEntryException("text", $"'{Row.Text}' is not a known material; expected {string.Join(", ", Catalogue.Materials.Keys)}.");

        private static double Within(string field, string what, double? value, double low, double high) =>
            value is { } known && known >= low && known <= high
                ? known
                : throw new LogEntryException(field, FormattableString.Invariant($"{(value is { } v ? v : "nothing")} is not a {what}; expected {low} to {high}."));
    }
}

/// <summary>A log entry that cannot be: names the field and what was expected of it.</summary>
internal sealed class LogEntryException(string fieldName, string message) : Exception(message)
{
    /// <summary>Name of the field, as the API spells it.</summary>
    public string FieldName { get; } = fieldName;
}
