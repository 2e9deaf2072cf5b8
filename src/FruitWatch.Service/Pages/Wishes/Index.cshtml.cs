using FruitWatch.Service.Access;
using FruitWatch.Service.People;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Service.Wishes;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Wishes;

/// <summary>What the visitor is told, when, of which sites and by which way; a pause; and what they were sent.</summary>
[Right(Right.OwnAccount)]
internal sealed class IndexModel(FruitWatchStore store, MemberBook members, WishBook book, Visitor visitor, Words words) : PageModel
{
    public FormFields Form { get; private set; } = null!;

    public Person Row { get; private set; } = null!;

    /// <summary>Sites that they may see.</summary>
    public IReadOnlyList<Site> Sites { get; private set; } = [];

    /// <summary>Sites of their own beds, which stay.</summary>
    public IReadOnlySet<long> Fixed { get; private set; } = new HashSet<long>();

    /// <summary>Beds that they may see, at sites that they are told about.</summary>
    public ILookup<long, BedChoice> Beds { get; private set; } = Array.Empty<BedChoice>().ToLookup(bed => bed.SiteId);

    /// <summary>Whether they choose their sites themselves.</summary>
    public bool OwnSites => book.OwnSites;

    public IReadOnlyList<Deputy> Deputies { get; private set; } = [];

    public IReadOnlyList<MailTold> History { get; private set; } = [];

    /// <summary>Whether they may read their mails here.</summary>
    public bool MayRead => visitor.May(Right.ReadMails);

    public string? Done { get; private set; }

    public async Task OnGetAsync(string? done, CancellationToken stop)
    {
        Done = done;
        var row = (await members.FindAsync(visitor.Person!.Id, stop))!;
        await ShowAsync(row, null, stop);
    }

    [Asks(Right.OwnAccount)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        var row = (await members.FindAsync(visitor.Person!.Id, stop))!;
        var form = FormFields.Of(Request.Form, words);
        var wishes = PersonWishes.Of(form, row);
        // Boxes that are not ticked are not sent: of none, where they choose.
        wishes = wishes with { SiteIds = OwnSites ? wishes.SiteIds ?? [] : null };
        await book.CheckAsync(wishes, row, form, stop);
        if (People.PersonForm.IsOutdated(form, row))
            form.Refuse("", words.FieldsOutdated);
        if (form.Good)
        {
            try
            {
                await book.PutAsync(wishes, row, stop);
                return LocalRedirect("/account/mail?done=saved");
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

    /// <summary>Mail to their address is tried again.</summary>
    [Asks(Right.OwnAccount)]
    public async Task<IActionResult> OnPostResumeAsync(CancellationToken stop)
    {
        await book.ResumeAsync((await members.FindAsync(visitor.Person!.Id, stop))!, stop);
        return LocalRedirect("/account/mail?done=resumed");
    }

    private async Task ShowAsync(Person row, FormFields? form, CancellationToken stop)
    {
        var beds = await BedChoice.OfAsync(store, row.Id, stop);
        (Row, Form, Beds) = (row, form ?? WishesForm.Of(row, beds, words), beds.ToLookup(bed => bed.SiteId));
        Sites = await store.Sites.AsNoTracking().OrderBy(site => site.Name).ToListAsync(stop);
        Fixed = await book.FixedSitesAsync(row, stop);
        Deputies = await book.DeputiesAsync(row, stop);
        History = await MailHistory.OfAsync(store, row.Id, stop);
    }
}
