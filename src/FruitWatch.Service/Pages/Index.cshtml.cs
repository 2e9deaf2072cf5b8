using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages;

/// <summary>The cooperative's beds today: first what is to be done, then how every bed stands.</summary>
[Right(Right.ReadBeds)]
internal sealed class IndexModel(FruitWatchStore store, SiteBooks books, Visitor visitor, BedAccess access, IClock clock) : PageModel
{
    public string CooperativeName { get; private set; } = "";

    public IReadOnlyList<SiteBook> Sites { get; private set; } = [];

    /// <summary>What is due today or overdue, the most urgent first.</summary>
    public IReadOnlyList<NoticeShown> Due { get; private set; } = [];

    /// <summary>What is known to come, in order of its days.</summary>
    public IReadOnlyList<NoticeShown> Ahead { get; private set; } = [];

    public Dictionary<long, SiteMorning> Mornings { get; private set; } = [];

    public Dictionary<long, FeedCredit> Credits { get; private set; } = [];

    /// <summary>How each site's feeds stand.</summary>
    public ILookup<long, SiteFeedHealth> Feeds { get; private set; } = Array.Empty<SiteFeedHealth>().ToLookup(feed => feed.SiteId);

    /// <summary>Whether the visitor has a right, so that nothing leads to where they are not let in.</summary>
    public bool May(Right right) => visitor.May(right);

    public LocalDate? Today => Sites.Count > 0 ? Sites[0].Today : null;

    public async Task OnGetAsync(CancellationToken stop)
    {
        CooperativeName = await store.Cooperatives.OrderBy(c => c.Id).Select(c => c.Name).FirstOrDefaultAsync(stop) ?? "";
        Sites = await books.OpenAllAsync(store, stop);
        var last = await store.Mornings.AsNoTracking()
            .Where(m => !store.Mornings.Any(later => later.SiteId == m.SiteId && later.On > m.On)).ToListAsync(stop);
        Mornings = last.ToDictionary(m => m.SiteId);
        Credits = await FeedCredit.LoadAsync(store, stop);
        Feeds = await SiteFeedHealth.LoadAsync(store, null, clock.GetCurrentInstant(), stop);

        var mayLog = await access.OfAsync(Right.WriteLog, stop);
        var notices = Sites
            .SelectMany(site => site.Beds.SelectMany(bed => bed.Notices.Select(row => NoticeShown.Of(row, site, bed) with { MayLog = mayLog(bed.Row.Id) })))
            .ToList();
        Due = [.. notices.Where(notice => notice.IsDue)
            .OrderByDescending(notice => notice.Draft.Urgent).ThenBy(notice => notice.Draft.Deadline).ThenBy(notice => notice.Row.Id)];
        Ahead = [.. notices.Where(notice => !notice.IsDue)
            .OrderBy(notice => notice.Draft.From).ThenBy(notice => notice.Draft.Deadline).ThenBy(notice => notice.Row.Id)];
    }
}
