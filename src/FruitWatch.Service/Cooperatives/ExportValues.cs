using System.Globalization;
using System.Text.Json;
using FruitWatch.Store.Entities;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Cooperatives;

/// <summary>A field's value as it stands in JSON and in a cell.</summary>
internal static class ExportValues
{
    private const string PersonMark = "person:";

    public static void Write(Utf8JsonWriter json, ExportColumn column, object row, ExportKeys keys)
    {
        json.WritePropertyName(column.Name);
        switch (Renumbered(column, row, keys))
        {
            case null:
                json.WriteNullValue();
                break;
            case bool yes:
                json.WriteBooleanValue(yes);
                break;
            case long number:
                json.WriteNumberValue(number);
                break;
            case int number:
                json.WriteNumberValue(number);
                break;
            case double number:
                json.WriteNumberValue(number);
                break;
            case string text when column.IsJson && IsJson(text):
                // As it is kept, so that it comes back as it is kept.
                json.WriteRawValue(text, skipInputValidation: true);
                break;
            case { } value:
                json.WriteStringValue(Text(value));
                break;
        }
    }

    /// <summary>A cell: numbers untouched, text made inert.</summary>
    public static string Cell(ExportColumn column, object row, ExportKeys keys) => Renumbered(column, row, keys) switch
    {
        null => "",
        bool yes => yes ? "true" : "false",
        long number => number.ToString(CultureInfo.InvariantCulture),
        int number => number.ToString(CultureInfo.InvariantCulture),
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        string text => Inert(text),
        { } value => Text(value),
    };

    /// <summary>
    /// Text that no spreadsheet takes for a formula: an apostrophe goes before the characters that begin one (ASVS 5.0 1.2.10), wide
    /// forms of them and blanks before them included.
    /// </summary>
    public static string Inert(string text)
    {
        var first = text.AsSpan().TrimStart(" \u00a0\u3000\ufeff");
        return text.Length > 0 && (text[0] is '\t' or '\r' or '\n' or '\0' || (first.Length > 0 && first[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '＝' or '＋' or '－' or '＠'))
            ? "'" + text
            : text;
    }

    private static object? Renumbered(ExportColumn column, object row, ExportKeys keys)
    {
        var value = column.Property.GetValue(row);
        if (column.Refers is { } table && value is long key)
            return keys.Find(table, key) ?? throw new InvalidOperationException($"{column.Name} of a {row.GetType().Name} names row {key}, which is not exported.");
        if (column.NamesCaller && value is string caller)
        {
            if (caller.StartsWith(PersonMark, StringComparison.Ordinal))
                return long.TryParse(caller.AsSpan(PersonMark.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var person)
                    && keys.Find(typeof(Person), person) is { } number
                        ? PersonMark + number.ToString(CultureInfo.InvariantCulture)
                        : null;
            // Tokens and links are not exported.
            return caller.StartsWith("token:", StringComparison.Ordinal) || caller.StartsWith("link:", StringComparison.Ordinal) ? null : caller;
        }

        return value;
    }

    private static string Text(object value) => value switch
    {
        string text => text,
        LocalDate day => LocalDatePattern.Iso.Format(day),
        LocalTime time => LocalTimePattern.ExtendedIso.Format(time),
        Instant moment => InstantPattern.ExtendedIso.Format(moment),
        Enum word => JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString()),
        _ => throw new InvalidOperationException($"A {value.GetType().Name} has no form in an export."),
    };

    // Objects and lists only: a text that happens to be JSON is told from one that stands for text.
    private static bool IsJson(string text)
    {
        var begins = text.AsSpan().TrimStart(" \t\r\n");
        if (begins.Length == 0 || begins[0] is not ('{' or '['))
            return false;
        try
        {
            using var read = JsonDocument.Parse(text);
            return text.Length == read.RootElement.GetRawText().Length;
        }
        catch (JsonException)
        {
            return false;
        }
    }
}
