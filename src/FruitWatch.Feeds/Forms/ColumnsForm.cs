using System.Globalization;
using System.Text.Json;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>JSON in which the times are one list and each series is another, element by element.</summary>
internal sealed record ColumnsForm() : FeedForm("columns", LocatorKind.Pointer)
{
    public static FeedForm Read(DescriptionPlace place)
    {
        place.Object("kind!");
        return new ColumnsForm();
    }

    public override FeedTable Cut(FeedInput input)
    {
        using var document = JsonBody.Open(input);
        var root = document.RootElement;
        var description = input.Description;
        var timesAt = description.Time.Locator.Pointer!;
        var times = Column(root, timesAt) ?? throw JsonBody.NotThere(root, timesAt, "The list of times");
        var table = new List<SeriesCells>();
        foreach (var series in description.Series)
        {
            foreach (var (label, suffix) in series.Members?.All().Select(one => ((string?)one.Label, one.Suffix)) ?? [(null, "")])
            {
                if (CutOne(root, series, label, suffix, times, timesAt, input) is { } cells)
                    table.Add(cells);
                else if (!series.Optional && label is null)
                    throw JsonBody.NotThere(root, series.Locator.Pointer!, $"The list of {series.Name}");
            }
        }
        return new FeedTable(JsonBody.ZoneIn(root, description.Time), table);
    }

    private static SeriesCells? CutOne(
        JsonElement root, SeriesDescription series, string? label, string suffix, List<string?> times, JsonPointer timesAt, FeedInput input)
    {
        var pointer = series.Locator.Pointer!.WithSuffix(suffix);
        if (Column(root, pointer) is not { } values)
            return null;
        CheckLength(values, pointer, times, timesAt);
        var conditions = series.Where.Select(where => (where, Column: Needed(where.Locator.Pointer!))).ToList();
        var marks = series.RejectIf.Select(reject => (reject, Column: Needed(reject.Locator.Pointer!))).ToList();
        var cells = new List<FeedCell>(values.Count);
        for (var row = 0; row < values.Count; row++)
        {
            if (conditions.TrueForAll(one => one.Column[row] == one.where.EqualTo))
                cells.Add(new FeedCell(times[row], values[row], marks.Exists(one => one.reject.Rejects(one.Column[row])), null, row));
        }
        var (unit, declared) = JsonBody.UnitIn(root, series, suffix, input);
        return new SeriesCells(series, label, unit, cells, cell => PlaceOf(pointer, cell), cell => PlaceOf(timesAt, cell))
        {
            UnitIsDeclared = declared,
        };

        List<string?> Needed(JsonPointer at)
        {
            var column = Column(root, at.WithSuffix(suffix)) ?? Column(root, at)
                ?? throw JsonBody.NotThere(root, at, $"A list that {series.Name} depends on");
            CheckLength(column, at, times, timesAt);
            return column;
        }
    }

    private static void CheckLength(List<string?> column, JsonPointer at, List<string?> times, JsonPointer timesAt)
    {
        if (column.Count != times.Count)
            throw new FeedException(
                FeedCodes.UnequalColumns,
                $"The list has {column.Count} values, but there are {times.Count} times at {timesAt}: nobody can say which belong together.",
                at.Text,
                "Ask again later, or tell the provider.");
    }

    private static List<string?>? Column(JsonElement root, JsonPointer pointer) =>
        pointer.Evaluate(root) is { ValueKind: JsonValueKind.Array } list ? [.. list.EnumerateArray().Select(CellText.Of)] : null;

    private static string PlaceOf(JsonPointer column, FeedCell cell) => $"{column}/{cell.Row.ToString(CultureInfo.InvariantCulture)}";
}
