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

/// <summary>Somebody is asked to become a member.</summary>
[Right(Right.ManagePeople)]
internal sealed class NewModel(FruitWatchStore store, MemberBook members, Visitor visitor, Words words) : PageModel
{
    public FormFields Form { get; private set; } = null!;

    public PersonFormShown Shown { get; private set; } = null!;

    public async Task OnGetAsync(CancellationToken stop)
    {
        var usual = new Person { Name = "", Email = "", Role = Role.Grower, Language = words.Language, Units = visitor.Person!.Units };
        await ShowAsync(PersonForm.Of(usual, words), stop);
    }

    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        var form = FormFields.Of(Request.Form, words);
        var change = PersonChange.Of(form, withActive: false);
        await members.CheckAsync(change, null, form, stop);
        if (form.Good)
        {
            try
            {
                var row = await members.AddAsync(change, stop);
                return LocalRedirect(FormattableString.Invariant($"/people/{row.Id}?done={(row.Email.Length > 0 ? "invited" : "made")}"));
            }
            catch (MemberRefusedException refused)
            {
                form.Refuse("", words.PeopleRefused(refused.Why));
            }
        }

        await ShowAsync(form, stop);
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return Page();
    }

    private async Task ShowAsync(FormFields form, CancellationToken stop)
    {
        Form = form;
        Shown = new PersonFormShown(form, await TicksAsync(store, stop), null, Own: false, visitor.Cooperative!.GrowersReadAll);
    }

    /// <summary>Sites with their beds, in order of their names.</summary>
    public static async Task<IReadOnlyList<SiteTicks>> TicksAsync(FruitWatchStore store, CancellationToken stop)
    {
        var beds = (await store.Beds.AsNoTracking().Where(bed => bed.RetiredOn == null).OrderBy(bed => bed.Name).ToListAsync(stop)).ToLookup(bed => bed.SiteId);
        var sites = await store.Sites.AsNoTracking().OrderBy(site => site.Name).ToListAsync(stop);
        return [.. sites.Select(site => new SiteTicks(site, [.. beds[site.Id]]))];
    }
}
