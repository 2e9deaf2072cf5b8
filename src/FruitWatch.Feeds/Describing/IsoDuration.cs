using System.Globalization;
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

    private static double Number(Match match, string group) =>
        match.Groups[group] is { Success: true, Value: var digits } ? double.Parse(digits, CultureInfo.InvariantCulture) : 0;

    [GeneratedRegex(@"^P(?=.)((?<d>[0-9]{1,9})D)?(T(?=.)((?<h>[0-9]{1,9})H)?((?<m>[0-9]{1,9})M)?((?<s>[0-9]{1,9}(\.[0-9]{1,9})?)S)?)?\z")]
    private static partial Regex Shape();
}
