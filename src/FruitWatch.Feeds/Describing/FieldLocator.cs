using FruitWatch.Feeds.Forms;

namespace FruitWatch.Feeds.Describing;

/// <summary>Where a form finds a field: by a JSON pointer, or by the name of a column.</summary>
internal enum LocatorKind
{
    Pointer,
    Column,
}

/// <summary>The place of one field, of the kind its form uses.</summary>
internal sealed record FieldLocator(JsonPointer? Pointer, string Column)
{
    /// <summary>Reads <c>at</c> or <c>column</c>, whichever the form uses, and refuses the other.</summary>
    public static FieldLocator? From(DescriptionPlace place, FeedForm form)
    {
        var kind = form.Locators;
        var (wanted, other) = kind == LocatorKind.Pointer ? ("at", "column") : ("column", "at");
        place.Member(other)?.Refuse(
            $"\"{other}\" does not fit this format.", $"Use \"{wanted}\": {(kind == LocatorKind.Pointer ? "JSON is pointed into" : "CSV has columns")}.");
        if (place.Member(wanted) is not { } member)
        {
            if (place.Member(other) is null)
                place.Refuse(wanted, "This member is missing.", "Say where the value is.");
            return null;
        }
        if (kind == LocatorKind.Pointer)
            return member.AsPointer() is { } pointer ? new FieldLocator(pointer, "") : null;
        var column = member.AsText(200);
        if (column.Length == 0 && member.IsClean)
            member.Refuse("The column's name is empty.", "Write it as in the header.");
        else if (form.FixedColumns is { } columns && member.IsClean && !columns.Contains(column))
            member.Refuse($"The format {form.Kind} has no such column.", $"Use one of: {string.Join(", ", columns)}.");
        return new FieldLocator(null, column);
    }

    public FieldLocator WithSuffix(string suffix) => new(Pointer?.WithSuffix(suffix), Column + suffix);

    public override string ToString() => Pointer?.Text ?? Column;
}
