using FruitWatch.Model.Account;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Outlooks;
using NodaTime;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Pages;

/// <summary>What is said of a bed in short.</summary>
/// <param name="site">Its site.</param>
/// <param name="bed">The bed.</param>
/// <param name="outlook">In all futures, where the page looks at them.</param>
internal sealed class BedGlance(SiteBook site, BedBook bed, OutlookReport? outlook = null)
{
    public SiteBook Site => site;

    public BedBook Bed => bed;

    public OutlookReport? Outlook => outlook;

    public AccountDay? Day { get; } = bed.Account?.On(site.Today);

    /// <summary>Open notices, the most urgent first.</summary>
    public IReadOnlyList<NoticeShown> Notices { get; } =
    [
        .. bed.Notices.Select(row => NoticeShown.Of(row, site, bed))
            .OrderBy(notice => notice.Urgency).ThenBy(notice => notice.Draft.Deadline).ThenBy(notice => notice.Row.Id),
    ];

    /// <summary>When pins are to be expected: the notice's window, else the day of the account.</summary>
    public DayWindow? Pins => Window(NoticeKind.ExpectPins, AccountEvent.Pins);

    /// <summary>When picking is to be expected.</summary>
    public DayWindow? Harvest => Window(NoticeKind.ExpectHarvest, AccountEvent.Harvest);

    /// <summary>Whether the page speaks of pins or mushrooms, and so has to speak of eating.</summary>
    public bool NeedsEatingCaution =>
        outlook is not null || Pins is not null || Harvest is not null || Day?.Phase is Phase.Pinning or Phase.Growing or Phase.Picking;

    public LogRow? LastLogged => bed.LogRows.Count > 0 ? bed.LogRows[^1] : null;

    private DayWindow? Window(NoticeKind kind, AccountEvent happening)
    {
        if (Notices.FirstOrDefault(notice => notice.Draft.Kind == kind)?.Draft is { } draft)
            return new DayWindow(draft.From, draft.Until);
        return bed.Next(happening, site.Today) is { } day ? new DayWindow(day, null) : null;
    }
}

/// <summary>When something is expected: from one day to another, or about one day where no more is known.</summary>
internal sealed record DayWindow(LocalDate From, LocalDate? Until);
