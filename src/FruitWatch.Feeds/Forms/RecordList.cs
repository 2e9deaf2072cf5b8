using System.Globalization;
using System.Text.Json;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>A list of records in an answer, flattened where each record holds a list of children.</summary>
internal sealed class RecordList
{
    private readonly JsonPointer at;
    private readonly JsonPointer? children;
    private readonly TimeDescription time;
    private readonly List<Item> items = [];

    private RecordList(JsonPointer at, JsonPointer? children, TimeDescription time) =>
        (this.at, this.children, this.time) = (at, children, time);

    /// <summary>One record, or one child of a record.</summary>
    /// <param name="Self">The record or the child.</param>
    /// <param name="Parent">The record of a child.</param>
    /// <param name="Row">Its place in the list, from 0.</param>
    /// <param name="Child">Its place in the record's list of children, from 0; −1 for the record itself.</param>
    internal readonly record struct Item(JsonElement Self, JsonElement? Parent, int Row, int Child)
    {
        public string? Time { get; init; }

        public bool TimeInParent { get; init; }

        public string? Plus { get; init; }

        /// <summary>What a pointer finds in the child, or else in its record.</summary>
        public JsonElement? Find(JsonPointer pointer) => pointer.Evaluate(Self) ?? (Parent is { } parent ? pointer.Evaluate(parent) : null);
    }

    public IReadOnlyList<Item> Items => items;

    /// <summary>The list at a pointer, or null where there is none.</summary>
    /// <exception cref="FeedException">The records have no children where they should.</exception>
    public static RecordList? In(JsonElement root, JsonPointer at, JsonPointer? children, TimeDescription time)
    {
        if (at.Evaluate(root) is not { ValueKind: JsonValueKind.Array } records)
            return null;
        var list = new RecordList(at, children, time);
        var row = 0;
        var withChildren = 0;
        foreach (var record in records.EnumerateArray())
        {
            if (children is null)
                list.Add(record, null, row, -1);
            else if (children.Evaluate(record) is { ValueKind: JsonValueKind.Array } inner)
            {
                withChildren++;
                var child = 0;
                foreach (var one in inner.EnumerateArray())
                    list.Add(one, record, row, child++);
            }
            row++;
        }
        return children is null || withChildren > 0 || row == 0
            ? list
            : throw JsonBody.NotThere(root, JsonPointer.TryParse($"{at}/0{children}")!, "The list inside each record");
    }

    public string PlaceOf(int index, JsonPointer pointer, bool inParent = false)
    {
        var item = items[index];
        var row = string.Create(CultureInfo.InvariantCulture, $"{at}/{item.Row}");
        return item.Child < 0 || inParent
            ? row + pointer.Text
            : string.Create(CultureInfo.InvariantCulture, $"{row}{children}/{item.Child}{pointer}");
    }

    public string TimePlace(int index) => PlaceOf(index, time.Locator.Pointer!, items[index].TimeInParent);

    /// <summary>A refusal that says what a record holds instead.</summary>
    public FeedException NotThere(JsonPointer pointer, string what)
    {
        var (parent, last) = pointer.Parent();
        var beside = items[0].Self is { } record && parent.Evaluate(record) is { ValueKind: JsonValueKind.Object } found
            ? " There is: " + FailureDescription.Quoted(string.Join(", ", found.EnumerateObject().Select(one => one.Name))) + "."
            : "";
        return new FeedException(
            FeedCodes.Missing,
            $"{what} is in none of the {items.Count} records of {at}: no \"{last}\".{beside}",
            PlaceOf(0, pointer),
            "The feed may have changed: correct the pointer in the description, or make the series optional.");
    }

    private void Add(JsonElement self, JsonElement? parent, int row, int child)
    {
        var item = new Item(self, parent, row, child);
        var own = time.Locator.Pointer!.Evaluate(self);
        items.Add(item with
        {
            Time = (own ?? item.Find(time.Locator.Pointer)) is { } found ? CellText.Of(found) : null,
            TimeInParent = own is null && parent is not null,
            Plus = time.PlusAt is { } plus && item.Find(plus) is { } added ? CellText.Of(added) : null,
        });
    }
}
