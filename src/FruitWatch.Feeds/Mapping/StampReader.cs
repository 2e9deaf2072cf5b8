using System.Globalization;
using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Mapping;

/// <summary>The time of a cell: a date, or an instant.</summary>
internal readonly record struct Stamp(LocalDate? Date, Instant At);

/// <summary>Turns the text of times into stamps, exactly as the description says and never by guessing.</summary>
internal sealed class StampReader(TimeDescription time, DateTimeZone zone)
{
    private const int EarliestYear = 1700;
    private const int LatestYear = 2200;

    private static readonly LocalDateTimePattern Bare = LocalDateTimePattern.ExtendedIso;
    private static readonly LocalDateTimePattern BareMinutes = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    private OffsetDateTimePattern Offsets => time.OffsetPattern ?? OffsetDateTimePattern.ExtendedIso;

    private string Described => time.Kind == TimeKind.UnixSeconds ? "seconds since 1970" : time.PatternText;

    /// <summary>The date a time begins with, or null where it cannot be read.</summary>
    public LocalDate? DateOf(string text)
    {
        switch (time.Kind)
        {
            case TimeKind.LocalDate or TimeKind.LocalDateTime:
                return Local(text.Trim())?.Date;
            case TimeKind.OffsetDateTime:
                return Offsets.Parse(text.Trim()) is { Success: true, Value: var at } ? at.Date : null;
            default:
                return Seconds(text.Trim())?.InUtc().Date;
        }
    }

    /// <summary>The stamps of a series' cells, in their order.</summary>
    /// <exception cref="FeedException">A time cannot be read.</exception>
    public IReadOnlyList<Stamp> Read(SeriesCells cells)
    {
        var stamps = new List<Stamp>(cells.Cells.Count);
        var newestFirst = time.Kind == TimeKind.LocalDateTime && IsNewestFirst(cells);
        foreach (var cell in cells.Cells)
        {
            Instant? before = stamps.Count > 0 ? stamps[^1].At : null;
            stamps.Add(One((cell.Time ?? "").Trim(), () => cells.TimePlace(cell), before, newestFirst));
        }
        return stamps;
    }

    private Stamp One(string text, Func<string> place, Instant? before, bool newestFirst)
    {
        switch (time.Kind)
        {
            case TimeKind.LocalDate:
                var date = (Local(text) ?? throw Unparseable(text, place(), "")).Date;
                return InRange(date.Year) ? new Stamp(date, default) : throw Unparseable(text, place(), "");
            case TimeKind.LocalDateTime:
                var local = Local(text) ?? throw Unparseable(text, place(), "");
                return InRange(local.Year) ? new Stamp(null, InZone(local, place, before, newestFirst)) : throw Unparseable(text, place(), "");
            case TimeKind.OffsetDateTime:
                return new Stamp(null, WithOffset(text, place));
            default:
                return new Stamp(null, Seconds(text) ?? throw Unparseable(text, place(), MillisecondsHint(text)));
        }
    }

    private LocalDateTime? Local(string text)
    {
        if (time.DateTimePattern is { } pattern)
            return pattern.Parse(text) is { Success: true, Value: var at } ? at : null;
        return time.DatePattern.Parse(text) is { Success: true, Value: var date } ? date.AtMidnight() : null;
    }

    private Instant InZone(LocalDateTime local, Func<string> place, Instant? before, bool newestFirst)
    {
        var mapping = zone.MapLocal(local);
        if (mapping.Count == 1)
            return mapping.Single().ToInstant();
        if (mapping.Count == 0)
            throw new FeedException(
                FeedCodes.TimeUnparseable,
                $"{Bare.Format(local)} does not exist in {zone.Id}: the clocks go forward over it.",
                place(),
                "If the station keeps one clock all year, say so with \"zone\": \"UTC\" or for example \"Etc/GMT-1\".");
        // The hour that comes twice: the order of the rows tells which of the two is meant.
        var (earlier, later) = (mapping.First().ToInstant(), mapping.Last().ToInstant());
        if (newestFirst)
            return before is null || later < before ? later : earlier;
        return before is null || earlier > before ? earlier : later;
    }

    private Instant WithOffset(string text, Func<string> place)
    {
        if (Offsets.Parse(text) is { Success: true, Value: var at } && InRange(at.Year))
            return at.ToInstant();
        if (Bare.Parse(text).Success || BareMinutes.Parse(text).Success)
            throw new FeedException(
                FeedCodes.TimeNoZone,
                $"\"{FailureDescription.Quoted(text)}\" has no offset from UTC.",
                place(),
                "Ask the feed for times with an offset, or describe them as localDateTime with a zone.");
        throw Unparseable(text, place(), "");
    }

    private static Instant? Seconds(string text)
    {
        if (!long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var seconds)
            || seconds is < -8_500_000_000 or > 7_300_000_000)
            return null;
        var at = Instant.FromUnixTimeSeconds(seconds);
        return InRange(at.InUtc().Year) ? at : null;
    }

    private bool IsNewestFirst(SeriesCells cells) =>
        cells.Cells.Count > 1
        && Local((cells.Cells[0].Time ?? "").Trim()) is { } first
        && Local((cells.Cells[^1].Time ?? "").Trim()) is { } last
        && first > last;

    private FeedException Unparseable(string text, string place, string hint) => new(
        FeedCodes.TimeUnparseable,
        $"\"{FailureDescription.Quoted(text)}\" is not a time as described ({Described}).{hint}",
        place,
        "Correct time.pattern in the description, or the file; day and month are never guessed.");

    private static string MillisecondsHint(string text) =>
        text.Length == 13 && text.All(char.IsAsciiDigit) ? " These look like milliseconds." : "";

    private static bool InRange(int year) => year is >= EarliestYear and <= LatestYear;
}
