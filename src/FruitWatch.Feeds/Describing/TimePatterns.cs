using System.Text;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Describing;

/// <summary>
/// NodaTime patterns written by a user. A pattern must give back the time it wrote: one that loses the year or the day
/// would read every row as the same date. Always the invariant culture.
/// </summary>
internal static class TimePatterns
{
    private static readonly LocalDateTime Sample = new(2026, 5, 14, 17, 0);

    /// <summary>A date; where the pattern has a time of day as well, that is midnight.</summary>
    public static LocalDatePattern? Date(DescriptionPlace place, string text) =>
        Checked(place, text, () => LocalDatePattern.CreateWithInvariantCulture(AtMidnight(text)), Sample.Date);

    public static LocalDateTimePattern? DateTime(DescriptionPlace place, string text) =>
        Checked(place, text, () => LocalDateTimePattern.CreateWithInvariantCulture(text), Sample);

    public static OffsetDateTimePattern? OffsetDateTime(DescriptionPlace place, string text) =>
        Checked(place, text, () => OffsetDateTimePattern.CreateWithInvariantCulture(text), Sample.WithOffset(Offset.FromHours(2)));

    /// <summary>Puts zeros in place of the letters of hour, minute and second.</summary>
    private static string AtMidnight(string text)
    {
        var pattern = new StringBuilder(text.Length);
        var quote = '\0';
        foreach (var letter in text)
        {
            if (letter is '\'' or '"' && (quote == '\0' || quote == letter))
                quote = quote == '\0' ? letter : '\0';
            pattern.Append(quote == '\0' && letter is ('H' or 'm' or 's') ? '0' : letter);
        }
        return pattern.ToString();
    }

    private static TPattern? Checked<TPattern, TValue>(DescriptionPlace place, string text, Func<TPattern> create, TValue sample)
        where TPattern : class, IPattern<TValue>
    {
        try
        {
            var pattern = create();
            if (pattern.Parse(pattern.Format(sample)) is { Success: true, Value: var back } && Equals(back, sample))
                return pattern;
            place.Refuse($"The pattern \"{text}\" loses part of the time.", "Include year, month and day, and for times the hour.");
        }
        catch (InvalidPatternException fault)
        {
            place.Refuse($"\"{text}\" is not a pattern: {fault.Message}", "Use NodaTime's letters, for example uuuu-MM-dd HH:mm.");
        }
        return null;
    }
}
