using System.Text;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using NodaTime;

namespace FruitWatch.Service.Calendars;

/// <summary>
/// Writes a calendar as iCalendar (RFC 5545, RFC 7986): days without hours and zones, so that they are the same days everywhere; nothing
/// in it but what its notices say and names of beds and sites.
/// </summary>
internal sealed class CalendarWriter(BedCatalogue catalogue, ServiceOptions options)
{
    /// <summary>How often a program had better look again. A hint (RFC 7986 §5.7): some look once a day whatever is said.</summary>
    private const string LookAgain = "PT2H";

    private const int LongestName = 80;

    private readonly string address = options.BaseUrl.AbsoluteUri.TrimEnd('/');

    public byte[] Write(CalendarContent content)
    {
        var calendar = new Calendar { ProductId = "-//FruitWatch//FruitWatch//EN" };
        var name = content.Words.CalendarsNamed(content.Site is { } site ? OneLine.Of(site.Name, LongestName) : null);
        // The names with X- are older than RFC 7986 and known to more programs.
        calendar.AddProperty("NAME", name);
        calendar.AddProperty("X-WR-CALNAME", name);
        calendar.AddProperty("X-PUBLISHED-TTL", LookAgain);
        var refresh = new CalendarProperty("REFRESH-INTERVAL", LookAgain);
        refresh.AddParameter("VALUE", "DURATION");
        calendar.Properties.Add(refresh);
        foreach (var entry in content.Entries)
            calendar.Events.Add(Event(entry, content.Words));
        var text = new CalendarSerializer().SerializeToString(calendar) ?? throw new InvalidOperationException("A calendar came out empty.");
        return Encoding.UTF8.GetBytes(Folding.Again(text));
    }

    private CalendarEvent Event(CalendarEntry entry, Words words)
    {
        var (row, draft) = (entry.Row, entry.Draft);
        var (first, last) = entry.Days;
        var site = OneLine.Of(entry.Site.Name, LongestName);
        var place = entry.Bed is { } bed ? OneLine.Of(bed.Name, LongestName) : site;
        return new CalendarEvent
        {
            Uid = FormattableString.Invariant(
                $"{row.Kind}-{row.Episode}-{(row.BedId is { } key ? FormattableString.Invariant($"bed-{key}") : FormattableString.Invariant($"site-{row.SiteId}"))}@{options.BaseUrl.IdnHost}"),
            Sequence = entry.Sequence,
            DtStamp = Moment(entry.ChangedAt),
            LastModified = Moment(entry.ChangedAt),
            Created = Moment(row.IssuedAt),
            Start = Day(first),
            // The day after the last one: the end is outside (RFC 5545 §3.6.1).
            End = Day(last.PlusDays(1)),
            // Nobody is busy because a bed may pin.
            Transparency = TransparencyType.Transparent,
            Status = row.State == NoticeState.Withdrawn ? EventStatus.Cancelled : EventStatus.Confirmed,
            Summary = words.CalendarsSummary(place, words.Headline(draft), row.State),
            Description = Description(entry, words),
            Location = site,
            Categories = [words.NameOf(draft.Kind)],
            Url = new Uri(PageOf(entry)),
        };
    }

    private string Description(CalendarEntry entry, Words words)
    {
        var (row, draft) = (entry.Row, entry.Draft);
        var lines = new List<string>();
        if (SiteLines.Closing(row, words) is { Length: > 0 } closing)
            lines.Add(closing);
        lines.Add(words.ReasonFor(draft));
        lines.Add(words.CalendarsWhen(draft, entry.Days));
        lines.Add($"{Gist.Capital(words.HowSure(draft.Confidence), words.Culture)}.");
        if (draft.NeedsEatingCaution && entry.Bed is { } bed)
            lines.Add($"{words.BeforeEating}:\n{string.Join('\n', words.EatingCaution(catalogue.Species[bed.SpeciesKey]))}");
        // Some programs do not show what stands in URL.
        lines.Add(PageOf(entry));
        return string.Join("\n\n", lines);
    }

    private string PageOf(CalendarEntry entry) => entry.Bed is { } bed ? FormattableString.Invariant($"{address}/beds/{bed.Id}") : address + "/notices";

    private static CalDateTime Day(LocalDate day) => new(day.Year, day.Month, day.Day);

    private static CalDateTime Moment(Instant moment) => new(moment.ToDateTimeUtc(), CalDateTime.UtcTzId);
}
