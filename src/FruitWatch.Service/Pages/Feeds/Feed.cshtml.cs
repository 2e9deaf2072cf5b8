using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Text;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Feeds;

/// <summary>A feed as it is kept, what it makes of its last answer, and the start of a change.</summary>
[Right(Right.ReadFeeds)]
internal sealed class FeedModel(FruitWatchStore store, FeedTrials trials, FeedShelf shelf, Words words) : PageModel
{
    [BindProperty(SupportsGet = true)]
    public long Id { get; set; }

    public Feed Row { get; private set; } = null!;

    /// <summary>Sites of its cooperative.</summary>
    public IReadOnlyList<Site> Sites { get; private set; } = [];

    public IReadOnlyList<(Site Site, FeedSlot Slot)> UsedBy { get; private set; } = [];

    /// <summary>What the description makes of the last answer; null where there is no site to look from, or it cannot be read.</summary>
    public TrialSeen? Seen { get; private set; }

    /// <summary>What is wrong with the description as it is kept.</summary>
    public IReadOnlyList<(FeedDescriptionProblem Problem, int Line)> Problems { get; private set; } = [];

    public FeedForm Form { get; private set; } = new();

    public async Task<IActionResult> OnGetAsync(CancellationToken stop)
    {
        if (!await OpenAsync(stop))
            return NotFound();
        Form = new FeedForm { SiteId = Seen?.Site.Id ?? (Sites.Count > 0 ? Sites[0].Id : null), Title = Row.Title, Json = DescriptionText.InLines(Row.Description) };
        return Page();
    }

    /// <summary>Begins a change: the description is tried on the last answer.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostChangeAsync(CancellationToken stop)
    {
        if (!await OpenAsync(stop))
            return NotFound();
        Form = FeedForm.Of(Request.Form, Row.Description, words);
        var site = Sites.FirstOrDefault(row => row.Id == Form.SiteId);
        Form.CheckSite(site, words);
        var description = Form.Parse(trials);
        if (!Form.Good)
            return Refuse();
        var draft = await trials.MakeAsync(site!, Row, description!, Form.Change, stop);
        return LocalRedirect(TrialModel.Address(draft.Id, "read"));
    }

    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostDeleteAsync(CancellationToken stop)
    {
        if (!await OpenAsync(stop))
            return NotFound();
        try
        {
            await shelf.DeleteAsync(await store.Feeds.SingleAsync(feed => feed.Id == Id, stop), stop);
            return LocalRedirect("/feeds?done=deleted");
        }
        catch (FeedRefusedException why)
        {
            Form = new FeedForm { SiteId = Seen?.Site.Id, Title = Row.Title, Json = DescriptionText.InLines(Row.Description) };
            Form.Refuse("", words.FeedsRefused(why));
            return Refuse();
        }
    }

    private PageResult Refuse()
    {
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return Page();
    }

    private async Task<bool> OpenAsync(CancellationToken stop)
    {
        if (await store.Feeds.AsNoTracking().SingleOrDefaultAsync(feed => feed.Id == Id, stop) is not { } row)
            return false;
        Row = row;
        Sites = await store.Sites.AsNoTracking().Where(site => site.CooperativeId == row.CooperativeId).OrderBy(site => site.Id).ToListAsync(stop);
        UsedBy = [.. Sites.SelectMany(site => FilledSlot.Of(site).Where(slot => slot.FeedId == Id).Select(slot => (site, slot.Slot)))];
        try
        {
            if ((UsedBy.Count > 0 ? UsedBy[0].Site : Sites.Count > 0 ? Sites[0] : null) is { } site)
                Seen = await trials.LookAsync(row, site, stop);
        }
        catch (FeedDescriptionException wrong)
        {
            Problems = FeedForm.WithLines(wrong, DescriptionText.InLines(row.Description));
        }

        return true;
    }
}
