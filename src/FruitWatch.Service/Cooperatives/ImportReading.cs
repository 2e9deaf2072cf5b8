using System.Globalization;
using System.Text.Json;
using FruitWatch.Model.Catalogue;
using FruitWatch.Store.Entities;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Cooperatives;

/// <summary>Reads an export into rows and notes all that is wrong with it, each under its place, such as <c>log[3].on</c>.</summary>
internal sealed class ImportReading(BedCatalogue catalogue, IReadOnlySet<string> localReceivers)
{
    /// <summary>Enough to see what kind of file it is.</summary>
    private const int MostErrors = 50;

    private const int LongestShown = 60;

    private readonly List<string> errors = [];
    private readonly Dictionary<Type, int> counts = [];

    public IReadOnlyList<string> Errors => errors;

    public IReadOnlyList<(ExportTable Table, IReadOnlyList<object> Rows)> Read(JsonElement document, IReadOnlyList<ExportTable> tables)
    {
        var rows = new List<(ExportTable, IReadOnlyList<object>)>();
        if (document.ValueKind != JsonValueKind.Object || !document.TryGetProperty("schema", out var schema) || schema.ValueKind != JsonValueKind.String)
        {
            errors.Add($"schema: this is not an export of a cooperative; expected an object with the schema {ExportTables.Schema}.");
            return rows;
        }

        if (!schema.ValueEquals(ExportTables.Schema))
        {
            errors.Add($"schema: is '{Short(schema.GetString()!)}'; this FruitWatch takes in {ExportTables.Schema}.");
            return rows;
        }

        foreach (var field in document.EnumerateObject().Where(field => field.Name != "schema" && !tables.Any(table => table.Name == field.Name)))
            Note(Short(field.Name), "is not known here");
        foreach (var table in tables)
            rows.Add((table, Rows(document, table)));
        if (errors.Count == 0)
        {
            foreach (var (table, read) in rows)
                ImportRules.Check(table, read, catalogue, localReceivers, Note);
        }

        return rows;
    }

    private List<object> Rows(JsonElement document, ExportTable table)
    {
        var rows = new List<object>();
        if (!document.TryGetProperty(table.Name, out var value))
        {
            Note(table.Name, "is missing");
            return rows;
        }

        if (table.Name == "cooperative")
        {
            rows.Add(Row(value, table, table.Name, 0));
            return rows;
        }

        if (value.ValueKind != JsonValueKind.Array)
        {
            Note(table.Name, "expected a list");
            return rows;
        }

        counts[table.Kept.ClrType] = 0;
        foreach (var element in value.EnumerateArray())
        {
            if (errors.Count >= MostErrors)
                break;
            rows.Add(Row(element, table, string.Create(CultureInfo.InvariantCulture, $"{table.Name}[{rows.Count}]"), rows.Count + 1));
            counts[table.Kept.ClrType]++;
        }

        return rows;
    }

    private object Row(JsonElement element, ExportTable table, string at, int number)
    {
        var row = table.New();
        if (element.ValueKind != JsonValueKind.Object)
        {
            Note(at, $"expected an object, got {Shown(element)}");
            return row;
        }

        foreach (var field in element.EnumerateObject().Where(field => !table.Columns.Any(column => column.Name == field.Name)))
            Note($"{at}.{Short(field.Name)}", "is not known here");
        foreach (var column in table.Columns)
        {
            var place = $"{at}.{column.Name}";
            if (!element.TryGetProperty(column.Name, out var value))
                Note(place, "is missing");
            else if (value.ValueKind == JsonValueKind.Null)
            {
                if (!column.Optional)
                    Note(place, "must not be null");
            }
            else if (Value(column, value, place, number) is { } good)
            {
                column.Property.SetValue(row, good);
            }
        }

        return row;
    }

    private object? Value(ExportColumn column, JsonElement value, string at, int number)
    {
        if (column.IsKey)
            return Whole(value) == number ? (long)number : Wrong(at, value, $"{number}: rows are numbered from 1 in their order");
        if (column.Refers is { } table)
            return Whole(value) is { } key && key >= 1 && key <= counts.GetValueOrDefault(table) ? key : Wrong(at, value, "the number of a row that comes before");
        if (column.IsJson)
            return value.ValueKind switch
            {
                JsonValueKind.Object or JsonValueKind.Array => value.GetRawText(),
                JsonValueKind.String => Text(value, at),
                _ => Wrong(at, value, "an object, a list or text"),
            };
        if (column.NamesCaller)
            return Caller(value, at);
        if (column.Type.IsEnum)
            return Word(column.Type, value, at);
        return Type.GetTypeCode(column.Type) switch
        {
            TypeCode.Boolean => value.ValueKind is JsonValueKind.True or JsonValueKind.False ? value.GetBoolean() : Wrong(at, value, "true or false"),
            TypeCode.Int32 => value.ValueKind == JsonValueKind.Number && value.TryGetInt32(out var whole) ? whole : Wrong(at, value, "a whole number"),
            TypeCode.Int64 => Whole(value) ?? Wrong(at, value, "a whole number"),
            TypeCode.Double => value.ValueKind == JsonValueKind.Number && value.TryGetDouble(out var real) && double.IsFinite(real) ? real : Wrong(at, value, "a number"),
            TypeCode.String => Text(value, at),
            _ => Time(column.Type, value, at),
        };
    }

    private object? Time(Type type, JsonElement value, string at)
    {
        var text = value.ValueKind == JsonValueKind.String ? Text(value, at) as string ?? "" : "";
        if (type == typeof(LocalDate))
            return LocalDatePattern.Iso.Parse(text) is { Success: true, Value: var day } ? day : Wrong(at, value, "a day such as 2026-05-31");
        if (type == typeof(LocalTime))
            return LocalTimePattern.ExtendedIso.Parse(text) is { Success: true, Value: var time } ? time : Wrong(at, value, "a time of day such as 06:30:00");
        return InstantPattern.ExtendedIso.Parse(text) is { Success: true, Value: var moment } ? moment : Wrong(at, value, "a moment such as 2026-05-31T04:30:00Z");
    }

    private object? Word(Type type, JsonElement value, string at)
    {
        var words = Enum.GetValues(type).Cast<object>().ToDictionary(word => JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString()!), StringComparer.Ordinal);
        return value.ValueKind == JsonValueKind.String && words.TryGetValue(Text(value, at) as string ?? "", out var known)
            ? known
            : Wrong(at, value, string.Join(", ", words.Keys));
    }

    private object? Caller(JsonElement value, string at)
    {
        if (Text(value, at) is not string text)
            return null;
        const string mark = "person:";
        return !text.StartsWith(mark, StringComparison.Ordinal)
            || (long.TryParse(text.AsSpan(mark.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var key) && key >= 1 && key <= counts.GetValueOrDefault(typeof(Person)))
            ? text
            : Wrong(at, value, "a name, or person: and the number of a person");
    }

    // A lone surrogate is no text, and PostgreSQL keeps no text with a NUL in it.
    private object? Text(JsonElement value, string at)
    {
        try
        {
            return value.ValueKind == JsonValueKind.String && value.GetString()! is var text && !text.Contains('\0', StringComparison.Ordinal) ? text : Wrong(at, value, "text");
        }
        catch (InvalidOperationException)
        {
            Note(at, "expected text, got half a character");
            return null;
        }
    }

    private static long? Whole(JsonElement value) => value.ValueKind == JsonValueKind.Number && value.TryGetInt64(out var whole) ? whole : null;

    private object? Wrong(string at, JsonElement value, string expected)
    {
        Note(at, $"expected {expected}, got {Shown(value)}");
        return null;
    }

    private void Note(string at, string what)
    {
        if (errors.Count < MostErrors)
            errors.Add($"{at}: {what}.");
        else if (errors.Count == MostErrors)
            errors.Add("…and more.");
    }

    private static string Shown(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Object => "an object",
        JsonValueKind.Array => "a list",
        _ => Short(value.GetRawText()),
    };

    private static string Short(string text) => Channels.Email.OneLine.Of(text.Length <= LongestShown ? text : text[..LongestShown] + "…");
}
