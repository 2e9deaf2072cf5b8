using FruitWatch.Service.Access;
using FruitWatch.Service.Sites;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Sites;

/// <summary>A new site. What comes next is its feed, then its first bed.</summary>
[Right(Right.ManageSites)]
internal sealed class NewModel(FruitWatchStore store, SiteShelf shelf, Visitor visitor, Words words) : PageModel
{
    public SiteFormShown Shown { get; private set; } = null!;

    public async Task OnGetAsync(CancellationToken stop)
    {
        // Most often the next site lies where the others do.
        var zone = await store.Sites.OrderByDescending(site => site.Id).Select(site => site.ZoneId).FirstOrDefaultAsync(stop);
        await ShowAsync(SiteForm.Empty(words, zone ?? visitor.Person?.ZoneId), stop);
    }

    [Asks(Right.ManageSites)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        var form = FormFields.Of(Request.Form, words, SiteForm.Units);
        var change = SiteChange.Of(form);
        await shelf.CheckAsync(change, null, form, stop);
        if (form.Good)
        {
            var row = await shelf.AddAsync(change, stop);
            return LocalRedirect(
                row.ForecastFeedId is null && visitor.May(Right.ManageFeeds)
                    ? FormattableString.Invariant($"/feeds/new?site={row.Id}")
                    : FormattableString.Invariant($"/beds/new?site={row.Id}"));
        }

        await ShowAsync(form, stop);
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return Page();
    }

    private async Task ShowAsync(FormFields form, CancellationToken stop) =>
        Shown = new SiteFormShown(form, await store.Feeds.AsNoTracking().OrderBy(feed => feed.Title).ToListAsync(stop));
}
