using FruitWatch.Service.Access;
using FruitWatch.Service.Pages.People;
using FruitWatch.Service.Sites;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Sites;

/// <summary>A site is changed.</summary>
[Right(Right.ManageSites)]
internal sealed class EditModel(FruitWatchStore store, SiteShelf shelf, Words words) : PageModel
{
    [BindProperty(SupportsGet = true)]
    public long Id { get; set; }

    public SiteFormShown Shown { get; private set; } = null!;

    public async Task<IActionResult> OnGetAsync(CancellationToken stop)
    {
        if (await store.Sites.AsNoTracking().SingleOrDefaultAsync(site => site.Id == Id, stop) is not { } row)
            return NotFound();
        await ShowAsync(SiteForm.Of(row, words), stop);
        return Page();
    }

    [Asks(Right.ManageSites)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        if (await store.Sites.SingleOrDefaultAsync(site => site.Id == Id, stop) is not { } row)
            return NotFound();
        var form = FormFields.Of(Request.Form, words, SiteForm.Units);
        var change = SiteChange.Of(form);
        await shelf.CheckAsync(change, row, form, stop);
        if (PersonForm.IsOutdated(form, row))
            form.Refuse("", words.FieldsOutdated);
        try
        {
            if (form.Good)
            {
                await shelf.ChangeAsync(row, change, stop);
                return LocalRedirect(FormattableString.Invariant($"/#site-{Id}"));
            }
        }
        catch (DbUpdateConcurrencyException)
        {
            form.Refuse("", words.FieldsOutdated);
        }

        await ShowAsync(form, stop);
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return Page();
    }

    private async Task ShowAsync(FormFields form, CancellationToken stop) =>
        Shown = new SiteFormShown(form, await store.Feeds.AsNoTracking().OrderBy(feed => feed.Title).ToListAsync(stop));
}
