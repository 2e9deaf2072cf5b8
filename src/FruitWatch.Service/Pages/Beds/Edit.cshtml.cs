using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Pages.People;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Beds;

/// <summary>A bed is changed, or no longer watched.</summary>
[Right(Right.ManageBeds)]
internal sealed class EditModel(FruitWatchStore store, BedShelf shelf, BedCatalogue catalogue, BedAccess access, Words words) : PageModel
{
    [BindProperty(SupportsGet = true)]
    public long Id { get; set; }

    public BedFormShown Shown { get; private set; } = null!;

    public async Task<IActionResult> OnGetAsync(CancellationToken stop)
    {
        if (await shelf.FindAsync(Id, stop) is not { } row)
            return NotFound();
        return await access.MayAsync(Right.ManageBeds, Id, stop)
            ? await ShowAsync(BedForm.Of(row, words), row, stop)
            : StatusCode(StatusCodes.Status403Forbidden);
    }

    [Asks(Right.ManageBeds)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        if (await shelf.FindAsync(Id, stop) is not { } row)
            return NotFound();
        if (!await access.MayAsync(Right.ManageBeds, Id, stop))
            return StatusCode(StatusCodes.Status403Forbidden);
        var form = FormFields.Of(Request.Form, words, BedForm.Units);
        var change = BedChange.Of(form);
        if (form.Good)
            await shelf.CheckAsync(change, row, form, stop);
        if (PersonForm.IsOutdated(form, row))
            form.Refuse("", words.FieldsOutdated);
        try
        {
            if (form.Good)
            {
                await shelf.ChangeAsync(row, change, stop);
                return LocalRedirect(FormattableString.Invariant($"/beds/{Id}"));
            }
        }
        catch (DbUpdateConcurrencyException)
        {
            form.Refuse("", words.FieldsOutdated);
        }

        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return await ShowAsync(form, row, stop);
    }

    private async Task<IActionResult> ShowAsync(FormFields form, Bed row, CancellationToken stop)
    {
        var site = await store.Sites.AsNoTracking().SingleAsync(one => one.Id == row.SiteId, stop);
        Shown = new BedFormShown(form, site, row, catalogue);
        return Page();
    }
}
