using System.Globalization;
using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;

namespace FruitWatch.Feeds.Mapping;

/// <summary>Turns the text of values into numbers in the model's units. What cannot be believed becomes unknown, never a default.</summary>
internal sealed class ValueReader(SeriesCells cells, char decimalSign, NoteBook notes, Tally tally)
{
    private const double TinyNegative = -0.05;

    private static readonly HashSet<string> AlwaysMissing =
        new(["null", "nan", "na", "n/a", "none", "-", "--"], StringComparer.OrdinalIgnoreCase);

    private readonly SeriesDescription series = cells.Series;

    // "-9999" in the description also means -9999.0 in the answer.
    private readonly HashSet<double> missingNumbers =
        [.. cells.Series.Missing.Select(token => Number(token, decimalSign)).OfType<double>()];

    /// <summary>The value in °C, mm or %, or null where it is unknown.</summary>
    /// <param name="cell">The text.</param>
    /// <param name="rejected">Whether the feed's own marks throw the reading out.</param>
    public double? Read(FeedCell cell, out bool rejected)
    {
        var text = (cell.Text ?? "").Trim();
        rejected = false;
        if (text.Length == 0 || IsMissing(text))
            return null;
        if (cell.Flagged)
        {
            rejected = true;
            Note(FeedCodes.ValueFlagged, $"\"{FailureDescription.Quoted(text)}\" is marked as bad by the feed; left unknown.", cell);
            return null;
        }
        if (series.ZeroTokens.Contains(text, StringComparer.OrdinalIgnoreCase))
        {
            tally.Number();
            return 0;
        }
        if (Number(text, decimalSign) is not { } number)
        {
            tally.Unreadable(cells.ValuePlace(cell), CommaHint(text));
            Note(FeedCodes.ValueNotNumber, $"\"{FailureDescription.Quoted(text)}\" is not a number; left unknown.{CommaHint(text)}", cell);
            return null;
        }
        tally.Number();
        return Believed(cells.Unit.ToModel(number * series.Scale), number, cell);
    }

    private double? Believed(double value, double raw, FeedCell cell)
    {
        // A running total may be of any size; its rise is looked at later.
        if (series.Support == Support.Counter)
            return value;
        if (series.Unit.Quantity == UnitQuantity.Depth && value < 0 && series.Plausible.Low >= 0)
        {
            if (value < TinyNegative)
            {
                Note(FeedCodes.ValueNegativeRain, $"Negative rain, {Show(raw)}; left unknown.", cell);
                return null;
            }
            Note(FeedCodes.ValueTinyNegative, $"Rain a hair below zero, {Show(raw)}; taken as 0.", cell);
            return 0;
        }
        var possible = value >= series.Plausible.Low && value <= series.Plausible.High;
        if (series.Unit.Quantity == UnitQuantity.Temperature)
            tally.Temperature(possible, possible ? "" : cells.ValuePlace(cell), possible ? "" : OtherUnitHint(raw));
        if (possible)
            return value;
        Note(
            FeedCodes.ValueImplausible,
            $"{Show(raw)} {cells.Unit.Code} is beyond {Show(series.Plausible.Low)} to {Show(series.Plausible.High)}; left unknown.",
            cell);
        return null;
    }

    private bool IsMissing(string text)
    {
        if (!char.IsAsciiDigit(text[^1]) && AlwaysMissing.Contains(text))
            return true;
        foreach (var token in series.Missing)
        {
            if (string.Equals(token, text, StringComparison.OrdinalIgnoreCase))
                return true;
        }
        return missingNumbers.Count > 0 && Number(text, decimalSign) is { } number && missingNumbers.Contains(number);
    }

    private static double? Number(string text, char decimalSign)
    {
        if (decimalSign == ',')
        {
            if (text.Contains('.', StringComparison.Ordinal))
                return null;
            text = text.Replace(',', '.');
        }
        // No thousands sign: with one, "1,5" would read as 15.
        const NumberStyles Plain = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        return double.TryParse(text, Plain, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) ? number : null;
    }

    private void Note(string code, string sentence, FeedCell cell) => notes.Add(code, cells.About, sentence, cells.ValuePlace(cell));

    private string CommaHint(string text) =>
        decimalSign == '.' && text.Count(letter => letter == ',') == 1 && text.All(letter => char.IsAsciiDigit(letter) || letter is ',' or '-')
            ? " A decimal comma is described by \"decimal\": \",\"."
            : "";

    private string OtherUnitHint(double raw)
    {
        if (cells.Unit.Code != "Cel" || series.Scale != 1)
            return "";
        return raw switch
        {
            > 60 and < 135 => " They would fit as °F: \"code\": \"[degF]\".",
            > 200 and < 330 => " They would fit as kelvin (\"code\": \"K\"), or in tenths of a degree (\"scale\": 0.1).",
            > -700 and < 600 => " They would fit in tenths of a degree: \"scale\": 0.1.",
            _ => "",
        };
    }

    private static string Show(double number) => number.ToString("0.###", CultureInfo.InvariantCulture);
}
