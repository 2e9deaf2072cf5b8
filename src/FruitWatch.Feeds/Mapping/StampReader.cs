using System.Globalization;
using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Mapping;

/// <summary>The time of a cell: a date, an instant, or a stretch from one instant to another.</summary>
internal readonly record struct Stamp(LocalDate? Date, Instant At, Instant? End = null);

/// <summary>Turns the text of times into stamps, exactly as the description says and never by guessing.</summary>
internal sealed class StampReader(TimeDescription time, DateTimeZone zone)
{
    private const int EarliestYear = 1700;
    private const int LatestYear = 2200;

    private static readonly LocalDateTimePattern Bare = LocalDateTimePattern.ExtendedIso;
    private static readonly LocalDateTimePattern BareMinutes = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    private readonly OffsetDateTimePattern offsets = time.OffsetPattern ?? OffsetDateTimePattern.ExtendedIso;

    /// <summary>The date a time begins with, or null where it cannot be read.</summary>
    public LocalDate? DateOf(string text)
    {
        switch (time.Kind)
        {
            case TimeKind.LocalDate or TimeKind.LocalDateTime:
                return Local(text.Trim())?.Date;
            case TimeKind.OffsetDateTime:
                return offsets.Parse(text.Trim()) is { Success: true, Value: var at } ? at.Date : null;
            case TimeKind.UnixSeconds:
                return Seconds(text.Trim())?.InUtc().Date;
            default:
                return null;
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
            var stamp = One(cells, cell, before, newestFirst);
            stamps.Add(time.PlusAt is null ? stamp : stamp with { At = stamp.At + Plus(cells, cell) });
        }
        return stamps;
    }

    private Stamp One(SeriesCells cells, FeedCell cell, Instant? before, bool newestFirst)
    {
        if (cell.Time is null)
            throw new FeedException(
                FeedCodes.TimeUnparseable,
                "There is a value without a time.",
                cells.TimePlace(cell),
                "Correct time in the description; if the feed leaves times out, use another one.");
        var text = cell.Time.Trim();
        switch (time.Kind)
        {
            case TimeKind.LocalDate:
                return Local(text) is { } date && InRange(date.Year)
                    ? new Stamp(date.Date, default)
                    : throw Unparseable(text, cells.TimePlace(cell));
            case TimeKind.LocalDateTime:
                return Local(text) is { } local && InRange(local.Year)
                    ? new Stamp(null, InZone(local, cells, cell, before, newestFirst))
                    : throw Unparseable(text, cells.TimePlace(cell));
            case TimeKind.OffsetDateTime:
                return WithOffset(text) is { } at ? new Stamp(null, at) : throw NoOffset(text, text, cells.TimePlace(cell));
            case TimeKind.UnixSeconds:
                return new Stamp(null, Seconds(text) ?? throw Unparseable(text, cells.TimePlace(cell), MillisecondsHint(text)));
            default:
                return Interval(text, cells, cell);
        }
    }

    private LocalDateTime? Local(string text)
    {
        if (time.DateTimePattern is { } pattern)
            return pattern.Parse(text) is { Success: true, Value: var at } ? at : null;
        return time.DatePattern.Parse(text) is { Success: true, Value: var date } ? date.AtMidnight() : null;
    }

    private Instant InZone(LocalDateTime local, SeriesCells cells, FeedCell cell, Instant? before, bool newestFirst)
    {
        var mapping = zone.MapLocal(local);
        if (mapping.Count == 1)
            return mapping.Single().ToInstant();
        if (mapping.Count == 0)
            throw new FeedException(
                FeedCodes.TimeUnparseable,
                $"{Bare.Format(local)} does not exist in {zone.Id}: the clocks go forward over it.",
                cells.TimePlace(cell),
                "If the station keeps one clock all year, say so with \"zone\": \"UTC\" or for example \"Etc/GMT-1\".");
        // The hour that comes twice: the order of the rows tells which of the two is meant.
        var (earlier, later) = (mapping.First().ToInstant(), mapping.Last().ToInstant());
        if (newestFirst)
            return before is null || later < before ? later : earlier;
        return before is null || earlier > before ? earlier : later;
    }

    private Instant? WithOffset(string text) =>
        offsets.Parse(text) is { Success: true, Value: var at } && InRange(at.Year) ? at.ToInstant() : null;

    /// <summary>start/end, start/duration or duration/end (ISO 8601 section 5.5); the start is part of it, the end is not.</summary>
    private Stamp Interval(string text, SeriesCells cells, FeedCell cell)
    {
        var place = cells.TimePlace(cell);
        var slash = text.IndexOf('/', StringComparison.Ordinal);
        if (slash < 0)
            throw Unparseable(text, place);
        var (first, second) = (text[..slash], text[(slash + 1)..]);
        Instant start;
        Instant end;
        if (first.StartsWith('P'))
        {
            end = WithOffset(second) ?? throw NoOffset(second, text, place);
            start = end - Span(first, text, place);
        }
        else
        {
            start = WithOffset(first) ?? throw NoOffset(first, text, place);
            end = second.StartsWith('P') ? start + Span(second, text, place) : WithOffset(second) ?? throw NoOffset(second, text, place);
        }
        if (end <= start)
            throw Unparseable(text, place, " It is empty or runs backwards.");
        return end - start <= SeriesDescription.LongestPeriod
            ? new Stamp(null, start, end)
            : throw Unparseable(text, place, $" It is longer than {SeriesDescription.LongestPeriod.TotalDays:0} days and says nothing about a day.");
    }

    private Duration Span(string text, string whole, string place) =>
        IsoDuration.TryParse(text) ?? throw Unparseable(whole, place, " A length is in days, hours, minutes and seconds; months and years have none.");

    private static Duration Plus(SeriesCells cells, FeedCell cell)
    {
        var text = cell.Plus?.Trim() ?? "";
        return IsoDuration.TryParse(text) is { } span && span <= SeriesDescription.LongestPeriod ? span : throw new FeedException(
            FeedCodes.TimeUnparseable,
            $"\"{FailureDescription.Quoted(text)}\", which should be added to the time, is not a length of time of at most {SeriesDescription.LongestPeriod.TotalDays:0} days.",
            cells.TimePlace(cell),
            "Correct time.plusAt in the description, or leave it out.");
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

    private FeedException NoOffset(string text, string whole, string place) =>
        Bare.Parse(text).Success || BareMinutes.Parse(text).Success
            ? new FeedException(
                FeedCodes.TimeNoZone,
                $"\"{FailureDescription.Quoted(whole)}\" has no offset from UTC.",
                place,
                "Ask the feed for times with an offset, or describe them as localDateTime with a zone.")
            : Unparseable(whole, place);

    private FeedException Unparseable(string text, string place, string hint = "") => new(
        FeedCodes.TimeUnparseable,
        $"\"{FailureDescription.Quoted(text)}\" is not a time as described ({time.PatternText}).{hint}",
        place,
        "Correct time.pattern in the description, or the file; day and month are never guessed.");

    private static string MillisecondsHint(string text) =>
        text.Length == 13 && text.All(char.IsAsciiDigit) ? " These look like milliseconds." : "";

    private static bool InRange(int year) => year is >= EarliestYear and <= LatestYear;
}
