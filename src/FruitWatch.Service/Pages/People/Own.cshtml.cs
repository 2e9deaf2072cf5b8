using FruitWatch.Service.Access;
using FruitWatch.Service.People;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.People;

/// <summary>Own settings: how the visitor reads, and what they are.</summary>
[Right(Right.OwnAccount)]
internal sealed class OwnModel(FruitWatchStore store, MemberBook members, Visitor visitor, Words words) : PageModel
{
    public FormFields Form { get; private set; } = null!;

    public Person Row { get; private set; } = null!;

    public string CooperativeName => visitor.Cooperative!.Name;

    public bool GrowersReadAll => visitor.Cooperative!.GrowersReadAll;

    /// <summary>Sites that they are told about.</summary>
    public IReadOnlyList<string> Sites { get; private set; } = [];

    /// <summary>Beds that are their own.</summary>
    public IReadOnlyList<Bed> Beds { get; private set; } = [];

    public string? Done { get; private set; }

    public async Task OnGetAsync(string? done, CancellationToken stop)
    {
        Done = done;
        var row = (await members.FindAsync(visitor.Person!.Id, stop))!;
        await ShowAsync(row, PersonForm.Of(row, words), stop);
    }

    [Asks(Right.OwnAccount)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        var row = (await members.FindAsync(visitor.Person!.Id, stop))!;
        var form = FormFields.Of(Request.Form, words);
        var settings = PersonSettings.Of(form);
        if (PersonForm.IsOutdated(form, row))
            form.Refuse("", words.FieldsOutdated);
        if (form.Good)
        {
            try
            {
                settings.Put(row);
                await store.SaveChangesAsync(stop);
                return LocalRedirect("/account?done=saved");
            }
            catch (DbUpdateConcurrencyException)
            {
                form.Refuse("", words.FieldsOutdated);
                store.ChangeTracker.Clear();
                row = (await members.FindAsync(visitor.Person!.Id, stop))!;
            }
        }

        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        await ShowAsync(row, form, stop);
        return Page();
    }

    private async Task ShowAsync(Person row, FormFields form, CancellationToken stop)
    {
        Row = row;
        Form = form;
        var sites = row.Sites.Select(told => told.SiteId).ToArray();
        var beds = row.Beds.Select(own => own.BedId).ToArray();
        Sites = await store.Sites.Where(site => sites.Contains(site.Id)).OrderBy(site => site.Name).Select(site => site.Name).ToListAsync(stop);
        Beds = await store.Beds.AsNoTracking().Where(bed => beds.Contains(bed.Id)).OrderBy(bed => bed.Name).ToListAsync(stop);
    }
}
