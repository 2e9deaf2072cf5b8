using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>Reads one series, or one member of it, from a list of records, record by record: absent in one is absent there.</summary>
internal sealed class RecordSeries(SeriesDescription series, string suffix, RecordList list)
{
    private readonly IReadOnlyList<JsonPointer> pointers = [.. series.Pointers.Select(pointer => pointer.WithSuffix(suffix))];

    public string ValuePlace(FeedCell cell) => list.PlaceOf(cell.Row, pointers[cell.Choice]);

    /// <summary>The cells; null where there are records of this series, but the value is in none of them.</summary>
    /// <exception cref="FeedException">What the series depends on is in no record.</exception>
    public IReadOnlyList<FeedCell>? Cells()
    {
        var cells = new List<FeedCell>();
        var found = false;
        var seen = new bool[series.Where.Count];
        for (var row = 0; row < list.Items.Count; row++)
        {
            var item = list.Items[row];
            if (!IsMeant(item, seen))
                continue;
            var cell = new FeedCell(item.Time, null, IsFlagged(item), null, row) { Plus = item.Plus };
            cells.Add(pointers.Count == 1 ? cell with { Text = TextAt(item, 0, ref found) } : WithChoices(cell, item, ref found));
        }
        for (var i = 0; i < seen.Length && list.Items.Count > 0; i++)
        {
            if (!seen[i])
                throw list.NotThere(series.Where[i].Locator.Pointer!, $"What tells {series.Name} from other series");
        }
        return found || cells.Count == 0 ? cells : null;
    }

    private bool IsMeant(RecordList.Item item, bool[] seen)
    {
        for (var i = 0; i < series.Where.Count; i++)
        {
            var where = series.Where[i];
            var field = item.Find(where.Locator.Pointer!);
            seen[i] |= field is not null;
            if (field is null || CellText.Of(field.Value) != where.EqualTo)
                return false;
        }
        return true;
    }

    private bool IsFlagged(RecordList.Item item)
    {
        foreach (var reject in series.RejectIf)
        {
            if (reject.Rejects(item.Find(reject.Locator.Pointer!) is { } mark ? CellText.Of(mark) : null))
                return true;
        }
        return false;
    }

    private FeedCell WithChoices(FeedCell cell, RecordList.Item item, ref bool found)
    {
        var texts = new string?[pointers.Count];
        for (var i = 0; i < texts.Length; i++)
            texts[i] = TextAt(item, i, ref found);
        return cell with { Choices = texts };
    }

    private string? TextAt(RecordList.Item item, int choice, ref bool found)
    {
        if (pointers[choice].Evaluate(item.Self) is not { } value)
            return null;
        found = true;
        return CellText.Of(value);
    }
}
