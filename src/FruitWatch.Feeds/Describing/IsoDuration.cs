using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using NodaTime;

namespace FruitWatch.Feeds.Describing;

/// <summary>An ISO 8601 duration of days, hours, minutes and seconds. Months and years have no length and are refused.</summary>
internal static partial class IsoDuration
{
    public static Duration? TryParse(string text)
    {
        var match = Shape().Match(text);
        if (!match.Success)
            return null;
        var seconds = (86_400 * Number(match, "d")) + (3_600 * Number(match, "h")) + (60 * Number(match, "m")) + Number(match, "s");
        return seconds <= 400 * 86_400 ? Duration.FromSeconds(seconds) : null;
    }

    /// <summary>The shortest text of a duration.</summary>
    public static string Text(Duration span)
    {
        var seconds = (decimal)(span.TotalNanoseconds / 1e9) - (span.Days * 86_400m);
        var (hours, minutes) = (decimal.Floor(seconds / 3600), decimal.Floor(seconds % 3600 / 60));
        var rest = seconds % 60;
        var text = new StringBuilder("P");
        Add(span.Days, 'D');
        if (seconds > 0 || span.Days == 0)
            text.Append('T');
        Add(hours, 'H');
        Add(minutes, 'M');
        Add(rest, 'S');
        return span == Duration.Zero ? "PT0S" : text.ToString();

        void Add(decimal number, char unit)
        {
            if (number != 0)
                text.Append(number.ToString("0.#########", CultureInfo.InvariantCulture)).Append(unit);
        }
    }

    private static double Number(Match match, string group) =>
        match.Groups[group] is { Success: true, Value: var digits } ? double.Parse(digits, CultureInfo.InvariantCulture) : 0;

    [GeneratedRegex(@"^P(?=.)((?<d>[0-9]{1,9})D)?(T(?=.)((?<h>[0-9]{1,9})H)?((?<m>[0-9]{1,9})M)?((?<s>[0-9]{1,9}(\.[0-9]{1,9})?)S)?)?\z")]
    private static partial Regex Shape();
}
