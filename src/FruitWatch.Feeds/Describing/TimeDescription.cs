using System.Globalization;
using FruitWatch.Feeds.Forms;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Describing;

/// <summary>How a feed writes its times.</summary>
internal enum TimeKind
{
    /// <summary>A calendar date.</summary>
    LocalDate,

    /// <summary>A date and time without offset, in a zone the description names.</summary>
    LocalDateTime,

    /// <summary>A date and time with its offset from UTC.</summary>
    OffsetDateTime,

    /// <summary>Seconds since 1970-01-01T00:00Z.</summary>
    UnixSeconds,

    /// <summary>Start and end, or one of them and a duration.</summary>
    IsoInterval,
}

/// <summary>Where a feed's times are, how they are written and when its days end.</summary>
internal sealed record TimeDescription
{
    private const int MinutesOfDay = 24 * 60;

    public FieldLocator Locator { get; private init; } = null!;

    public TimeKind Kind { get; private init; }

    public LocalDatePattern DatePattern { get; private init; } = LocalDatePattern.Iso;

    public LocalDateTimePattern? DateTimePattern { get; private init; }

    public OffsetDateTimePattern? OffsetPattern { get; private init; }

    /// <summary>The pattern as written, for messages.</summary>
    public string PatternText { get; private init; } = "";

    /// <summary>A pattern is described.</summary>
    public bool HasPattern { get; private init; }

    /// <summary>The zone of the times, or null for the site's.</summary>
    public DateTimeZone? Zone { get; private init; }

    /// <summary>Where a record has a length of time to be added to its time.</summary>
    public JsonPointer? PlusAt { get; private init; }

    /// <summary>Where the answer names the zone.</summary>
    public JsonPointer? ZoneAt { get; private init; }

    /// <summary>When a date's 24 hours end, after its own midnight. [min], 24:00 for the civil day</summary>
    public int DayEnds { get; private init; } = MinutesOfDay;

    /// <summary>The days end by UTC, whatever the zone.</summary>
    public bool DayEndsUtc { get; private init; }

    /// <summary>A column that says, row by row, when the day ended (HHmm or HH:mm).</summary>
    public string? DayEndsColumn { get; private init; }

    public static TimeDescription? From(DescriptionPlace? place, FeedForm? form)
    {
        if (place is null || !place.Object("at", "column", "kind!", "pattern", "zone", "plusAt", "dayEnds", "dayEndsZone", "dayEndsColumn")
            || form is null)
            return null;
        var kind = place.Word("kind", TimeKind.LocalDate, "localDate", "localDateTime", "offsetDateTime", "unixSeconds", "isoInterval");
        if (kind == TimeKind.IsoInterval && !form.HasIntervals)
            place.Refuse("kind", $"isoInterval belongs to the formats intervals and records, not to {form.Kind}.", "Use another kind of time.");
        if (!form.HasRecords)
            place.Member("plusAt")?.Refuse($"plusAt belongs to the format records, not to {form.Kind}.", "Remove it.");
        else if (kind is TimeKind.LocalDate or TimeKind.IsoInterval)
            place.Member("plusAt")?.Refuse("Only a moment can have a length of time added.", "Remove it, or use another kind of time.");
        var locator = FieldLocator.From(place, form);
        var time = new TimeDescription
        {
            Locator = locator!,
            Kind = kind,
            PlusAt = place.At("plusAt"),
            DayEnds = ReadDayEnds(place, kind),
            DayEndsUtc = place.Word("dayEndsZone", DayEndsZone.Site, "site", "UTC") == DayEndsZone.Utc,
            DayEndsColumn = place.Text("dayEndsColumn"),
        };
        if (time.DayEndsColumn is not null && form.Locators == LocatorKind.Pointer)
            place.Refuse("dayEndsColumn", "Only CSV has columns.", "Use dayEnds.");
        if (time.DayEndsColumn is { } column && form.FixedColumns?.Contains(column) == false)
            place.Refuse("dayEndsColumn", $"The format {form.Kind} has no such column.", "Use dayEnds.");
        var whole = ReadPattern(place, ReadZone(place, form, time));
        if (place.IsClean)
            form.CheckTime(place, whole);
        return whole;
    }

    /// <summary>Minutes after midnight of "07:00" or "0700", 24:00 included; null for anything else.</summary>
    public static int? Minutes(string text)
    {
        var digits = text.Length == 5 && text[2] == ':' ? text.Remove(2, 1) : text;
        if (digits.Length != 4 || !int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            return null;
        var minutes = (number / 100 * 60) + (number % 100);
        return number % 100 < 60 && minutes is > 0 and <= MinutesOfDay ? minutes : number == 0 ? MinutesOfDay : null;
    }

    private static int ReadDayEnds(DescriptionPlace place, TimeKind kind)
    {
        if (kind is not TimeKind.LocalDate && (place.Member("dayEnds") ?? place.Member("dayEndsColumn")) is { } misplaced)
            misplaced.Refuse("Only dates (localDate) need to be told when their day ends.", "Remove it.");
        if (place.Text("dayEnds") is not { } text)
            return MinutesOfDay;
        if (Minutes(text) is { } minutes && text.Length == 5)
            return minutes;
        place.Refuse("dayEnds", $"\"{text}\" is not a time of day.", "Write HH:mm, for example 07:00; 24:00 for the civil day.");
        return MinutesOfDay;
    }

    private static TimeDescription ReadZone(DescriptionPlace place, FeedForm form, TimeDescription time)
    {
        if (place.Member("zone") is not { } zone)
        {
            if (time.Kind == TimeKind.LocalDateTime)
                place.Refuse("zone", "Times without an offset need a zone.", "Write \"site\", \"UTC\" or a name such as \"Europe/London\".");
            return time;
        }
        if (zone.Element.ValueKind == System.Text.Json.JsonValueKind.Object)
        {
            zone.Object("at!");
            if (form.Locators == LocatorKind.Column)
                zone.Refuse("A CSV file cannot be pointed into.", "Name the zone.");
            return time with { ZoneAt = zone.At("at") };
        }
        var name = zone.AsText();
        if (name is "site" or "")
            return time;
        if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(name) is { } found)
            return time with { Zone = found };
        zone.Refuse(
            $"There is no time zone \"{FailureDescription.Quoted(name)}\".",
            "Write \"site\", \"UTC\" or an IANA name such as \"Europe/London\".");
        return time;
    }

    private static TimeDescription ReadPattern(DescriptionPlace place, TimeDescription time)
    {
        if (place.Member("pattern") is not { } at)
        {
            if (time.Kind == TimeKind.LocalDateTime)
                place.Refuse("pattern", "Local times need a pattern.", "Write it in NodaTime's letters, for example uuuu-MM-dd HH:mm.");
            return time with
            {
                PatternText = time.Kind switch
                {
                    TimeKind.LocalDate => "uuuu-MM-dd",
                    TimeKind.IsoInterval => "start/end, start/duration or duration/end, for example 2026-05-04T12:00:00+00:00/PT6H",
                    TimeKind.UnixSeconds => "seconds since 1970",
                    _ => "uuuu-MM-ddTHH:mm:ss±HH:mm",
                },
            };
        }
        time = time with { HasPattern = true };
        var text = at.AsText(100);
        if (!at.IsClean)
            return time;
        switch (time.Kind)
        {
            case TimeKind.LocalDate:
                // Some feeds write a date with a midnight behind it; such a pattern is a date and time, of which the date is kept.
                return text.Contains('H', StringComparison.Ordinal)
                    ? time with { PatternText = text, DateTimePattern = TimePatterns.DateTime(at, text) }
                    : time with { PatternText = text, DatePattern = TimePatterns.Date(at, text) ?? LocalDatePattern.Iso };
            case TimeKind.LocalDateTime:
                return time with { PatternText = text, DateTimePattern = TimePatterns.DateTime(at, text) };
            case TimeKind.OffsetDateTime:
                return time with { PatternText = text, OffsetPattern = TimePatterns.OffsetDateTime(at, text) };
            default:
                at.Refuse("Seconds and intervals need no pattern.", "Remove it.");
                return time;
        }
    }

    private enum DayEndsZone
    {
        Site,
        Utc,
    }
}
