using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.Beds;

/// <summary>A new bed at a site.</summary>
[Right(Right.ManageBeds)]
internal sealed class NewModel(FruitWatchStore store, BedShelf shelf, BedCatalogue catalogue, Words words, IClock clock) : PageModel
{
    public BedFormShown Shown { get; private set; } = null!;

    public async Task<IActionResult> OnGetAsync(long? site, CancellationToken stop)
    {
        // Named, or the only one there is.
        var sites = await store.Sites.AsNoTracking().Where(row => site == null || row.Id == site).OrderBy(row => row.Id).Take(2).ToListAsync(stop);
        if (sites.Count == 0 || (site is null && sites.Count > 1))
            return site is null ? LocalRedirect("/") : NotFound();
        var today = clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb[sites[0].ZoneId]).Date;
        Shown = new BedFormShown(BedForm.Empty(words, sites[0].Id, ApiText.Day(today)), sites[0], null, catalogue);
        return Page();
    }

    [Asks(Right.ManageBeds)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        var form = FormFields.Of(Request.Form, words, BedForm.Units);
        var change = BedChange.Of(form);
        if (await store.Sites.AsNoTracking().SingleOrDefaultAsync(row => row.Id == change.SiteId, stop) is not { } site)
            return NotFound();
        if (form.Good)
            await shelf.CheckAsync(change, null, form, stop);
        if (form.Good)
        {
            var row = await shelf.AddAsync(change, stop);
            return LocalRedirect(FormattableString.Invariant($"/beds/{row.Id}"));
        }

        Shown = new BedFormShown(form, site, null, catalogue);
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return Page();
    }
}
