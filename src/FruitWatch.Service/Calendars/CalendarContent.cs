using FruitWatch.Model.Notices;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Calendars;

/// <summary>What a calendar shows, not yet in words.</summary>
/// <param name="Words">In whose language and units.</param>
/// <param name="Site">The only site in it; null for all that its owner is told about, or where they no longer see it.</param>
/// <param name="Entries">Its notices in the order in which they were issued.</param>
internal sealed record CalendarContent(Words Words, Site? Site, IReadOnlyList<CalendarEntry> Entries);

/// <summary>A notice in a calendar.</summary>
/// <param name="Row">The notice as kept.</param>
/// <param name="Site">Its site.</param>
/// <param name="Bed">Its bed; null for one about the whole site.</param>
internal sealed record CalendarEntry(IssuedNotice Row, Site Site, Bed? Bed)
{
    /// <summary>The same notice, read.</summary>
    public NoticeDraft Draft { get; } = NoticeRows.Draft(Row);

    /// <summary>
    /// Days that it takes up. A window of pins or harvest is all of it; frost and heat stand on their day, for what has to be done by the
    /// evening before is the mail's to say; anything else stands from its day to its deadline, where that does not lie before.
    /// </summary>
    public (LocalDate First, LocalDate Last) Days
    {
        get
        {
            var first = Draft.NeedsEatingCaution ? Draft.From : Draft.Day;
            var last = Draft.Kind is NoticeKind.FrostAhead or NoticeKind.HeatAhead ? first : LocalDate.Max(first, Draft.Deadline);
            return (first, last);
        }
    }

    /// <summary>When it last changed: not when it is read, so that equal notices give equal bytes (RFC 5545 §3.8.7.2).</summary>
    public Instant ChangedAt => new[] { Row.ClosedAt ?? Row.RevisedAt ?? Row.IssuedAt, Bed?.RenamedAt ?? Instant.MinValue, Site.RenamedAt ?? Instant.MinValue }.Max();

    /// <summary>
    /// Rises whenever the entry changes, and only then, and never falls (RFC 5545 §3.8.7.4): with the notice itself, and with the names of
    /// its bed and its site and with what the bed grows. How its owner reads is no revision of it.
    /// </summary>
    public int Sequence => Row.Revisions + (Bed?.Renamings ?? 0) + Site.Renamings;
}
