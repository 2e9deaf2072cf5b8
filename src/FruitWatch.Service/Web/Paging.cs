using System.ComponentModel;
using System.Globalization;

namespace FruitWatch.Service.Web;

/// <summary>A part of a list.</summary>
internal sealed record Listing<T>(
    [property: Description("The entries.")] IReadOnlyList<T> Items,
    [property: Description("Address of the next part of the list; null at its end.")] string? Next);

/// <summary>How much of a list is wanted, and from where. A cursor is the key of the last entry seen: nothing is left out or told
/// twice when rows come in meanwhile.</summary>
internal sealed record Paging(int Limit, long? After)
{
    public const int Most = 200;
    public const int Usual = 50;

    /// <summary>Reads the query values; what is wrong is put under their names.</summary>
    public static Paging Read(string? limit, string? cursor, Dictionary<string, string[]> errors)
    {
        var count = Usual;
        if (limit is not null && !(int.TryParse(limit, NumberStyles.None, CultureInfo.InvariantCulture, out count) && count is >= 1 and <= Most))
            errors["limit"] = [$"Expected a whole number from 1 to {Most}."];
        long after = 0;
        if (cursor is not null && !long.TryParse(cursor, NumberStyles.None, CultureInfo.InvariantCulture, out after))
            errors["cursor"] = ["Expected a cursor as it stands in next."];
        return new Paging(count, cursor is null ? null : after);
    }

    /// <summary>Makes the answer of one row more than was asked for, by which is seen whether there are more.</summary>
    public Listing<TItem> Cut<TRow, TItem>(IReadOnlyList<TRow> rows, Func<TRow, long> key, Func<TRow, TItem> show, HttpRequest request)
    {
        var shown = rows.Count > Limit ? rows.Take(Limit).ToList() : rows;
        return new Listing<TItem>([.. shown.Select(show)], rows.Count > Limit ? Next(request, key(shown[^1])) : null);
    }

    private static string Next(HttpRequest request, long last)
    {
        var query = request.Query.Where(value => value.Key != "cursor")
            .Append(new("cursor", last.ToString(CultureInfo.InvariantCulture)));
        return request.Path + QueryString.Create(query);
    }
}
