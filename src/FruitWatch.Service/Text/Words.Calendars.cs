using FruitWatch.Model.Notices;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Private calendar feeds: their page, and what stands in them.</summary>
internal abstract partial class Words
{
    /// <summary>Link to the page.</summary>
    public abstract string CalendarsLink { get; }

    public abstract string CalendarsTitle { get; }

    public abstract string CalendarsLead { get; }

    /// <summary>That a calendar is no alarm.</summary>
    public abstract string CalendarsPlan { get; }

    public abstract string CalendarsMade(string name);

    public abstract string CalendarsOnce { get; }

    /// <summary>Link that a calendar program opens.</summary>
    public abstract string CalendarsOpen { get; }

    public abstract string CalendarsQr(string name);

    /// <summary>Heading: how to subscribe.</summary>
    public abstract string CalendarsHow { get; }

    public abstract string CalendarsYours { get; }

    public abstract string CalendarsNone { get; }

    /// <summary>What a calendar shows; null for all sites that its owner is told about.</summary>
    public abstract string CalendarsShows(string? site);

    /// <summary>It shows a site that its owner no longer sees.</summary>
    public abstract string CalendarsSiteGone { get; }

    public abstract string CalendarsRead(LocalDate? day);

    public abstract string CalendarsRevoke { get; }

    public abstract string CalendarsRevokeNamed(string name);

    public abstract string CalendarsRevokeMeans { get; }

    public abstract string CalendarsRevoked { get; }

    public abstract string CalendarsNew { get; }

    public abstract string CalendarsName { get; }

    public abstract string CalendarsNameHint { get; }

    public abstract string CalendarsSites { get; }

    /// <summary>Choice: all sites that they are told about.</summary>
    public abstract string CalendarsAll { get; }

    /// <summary>Which sites they are told about; empty for none.</summary>
    public abstract string CalendarsTold(string sites);

    /// <summary>Choice: one site.</summary>
    public abstract string CalendarsOnly(string site);

    public abstract string CalendarsMake { get; }

    public abstract string CalendarsTooMany(int most);

    /// <summary>To a program whose address opens nothing.</summary>
    public abstract string CalendarsUnknown { get; }

    /// <summary>To a program that reads too often.</summary>
    public abstract string CalendarsTooOften { get; }

    /// <summary>Name of a calendar as programs list it.</summary>
    public abstract string CalendarsNamed(string? site);

    /// <summary>How a calendar is added to a program, step by step, whichever it is.</summary>
    public abstract IReadOnlyList<string> CalendarsSteps { get; }

    /// <summary>An entry in a line: where, what, and what became of it.</summary>
    /// <param name="place">The bed, or the site.</param>
    /// <param name="headline">What it is about; see <see cref="Headline"/>.</param>
    /// <param name="state">Where it stands.</param>
    public abstract string CalendarsSummary(string place, string headline, NoticeState state);

    /// <summary>Until when, in days that stay true whenever they are read.</summary>
    public abstract string CalendarsWhen(NoticeDraft notice, (LocalDate First, LocalDate Last) days);
}
