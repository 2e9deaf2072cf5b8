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
using Microsoft.Extensions.Primitives;
using NodaTime;

namespace FruitWatch.Service.Pages.People;

/// <summary>A member: the invitation, the links that they work from, and what they are.</summary>
[Right(Right.ManagePeople)]
internal sealed class PersonModel(
    FruitWatchStore store, MemberBook members, Invitations invitations, LinkBook links, WishBook wishes, Visitor visitor, Words words) : PageModel
{
    private DateTimeZone zone = DateTimeZone.Utc;

    [BindProperty(SupportsGet = true)]
    public long Id { get; set; }

    public FormFields Form { get; private set; } = null!;

    /// <summary>The form of a new link.</summary>
    public FormFields LinkForm { get; private set; } = null!;

    public PersonFormShown Shown { get; private set; } = null!;

    public MemberShown Standing { get; private set; } = null!;

    public IReadOnlyList<PersonalLink> Links { get; private set; } = [];

    /// <summary>The link that was just made; its address is shown here and now only.</summary>
    public (PersonalLink Link, string Address)? Made { get; private set; }

    public string? Done { get; private set; }

    public bool MayInvite => Standing.Row is { Email.Length: > 0 } row && (row.AccountId is null || row.EmailConfirmedAt is null);

    public LocalDate Day(Instant moment) => moment.InZone(zone).Date;

    public bool Opens(PersonalLink link) => links.Opens(link);

    public async Task<IActionResult> OnGetAsync(string? done, CancellationToken stop)
    {
        Done = done;
        return await members.FindAsync(Id, stop) is { } row ? await ShowAsync(row, null, stop) : NotFound();
    }

    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        if (await members.FindAsync(Id, stop) is not { } row)
            return NotFound();
        var form = FormFields.Of(Request.Form, words);
        var change = PersonChange.Of(form, withActive: true);
        await members.CheckAsync(change, row, form, stop);
        if (PersonForm.IsOutdated(form, row))
            form.Refuse("", words.FieldsOutdated);
        if (!form.Good)
            return await RefuseAsync(row, form, stop);
        try
        {
            await members.ChangeAsync(row, change, stop);
            return Back("saved");
        }
        catch (MemberRefusedException refused)
        {
            form.Refuse("", words.PeopleRefused(refused.Why));
        }
        catch (DbUpdateConcurrencyException)
        {
            form.Refuse("", words.FieldsOutdated);
        }

        store.ChangeTracker.Clear();
        return await RefuseAsync((await members.FindAsync(Id, stop))!, form, stop);
    }

    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostInviteAsync(CancellationToken stop)
    {
        if (await members.FindAsync(Id, stop) is not { } row)
            return NotFound();
        try
        {
            await members.InviteAsync(row, stop);
            return Back("invited");
        }
        catch (MemberRefusedException refused)
        {
            var form = PersonForm.Of(row, words);
            form.Refuse("", words.PeopleRefused(refused.Why));
            return await RefuseAsync(row, form, stop);
        }
    }

    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostTakeBackAsync(CancellationToken stop)
    {
        if (await members.FindAsync(Id, stop) is not { } row)
            return NotFound();
        await invitations.TakeBackAsync(row, stop);
        return Back("taken-back");
    }

    /// <summary>Mail to their address is tried again.</summary>
    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostResumeAsync(CancellationToken stop)
    {
        if (await members.FindAsync(Id, stop) is not { } row)
            return NotFound();
        await wishes.ResumeAsync(row, stop);
        return Back("resumed");
    }

    /// <summary>Removes the member for good, once that was said twice.</summary>
    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostRemoveAsync(bool sure, CancellationToken stop)
    {
        if (await members.FindAsync(Id, stop) is not { } row)
            return NotFound();
        var form = PersonForm.Of(row, words);
        try
        {
            if (sure)
            {
                await members.RemoveAsync(row, stop);
                return LocalRedirect("/people?done=removed");
            }

            form.Refuse("sure", words.PeopleRemoveTick);
        }
        catch (MemberRefusedException refused)
        {
            form.Refuse("", words.PeopleRefused(refused.Why));
        }

        store.ChangeTracker.Clear();
        return await RefuseAsync((await members.FindAsync(Id, stop))!, form, stop);
    }

    /// <summary>Shows the address in the answer itself: it is kept nowhere that a redirect could lead to.</summary>
    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostLinkAsync(CancellationToken stop)
    {
        if (await members.FindAsync(Id, stop) is not { } row)
            return NotFound();
        LinkForm = FormFields.Of(Request.Form, words);
        LinkForm.IdPrefix = "link-";
        var change = LinkChange.Of(LinkForm);
        if (LinkForm.Good)
        {
            try
            {
                Made = await links.MakeAsync(row, change.Name, change.Days ?? LinkBook.UsualDays, stop);
                LinkForm = null!;
                Response.Headers.CacheControl = "no-store";
                Response.Headers["Referrer-Policy"] = "no-referrer";
                return await ShowAsync(row, null, stop);
            }
            catch (MemberRefusedException refused)
            {
                LinkForm.Refuse("", words.PeopleRefused(refused.Why));
            }
        }

        return await RefuseAsync(row, null, stop);
    }

    [Asks(Right.ManagePeople)]
    public async Task<IActionResult> OnPostRevokeAsync(long link, CancellationToken stop) =>
        await links.RevokeAsync(Id, link, stop) ? Back("revoked") : NotFound();

    private LocalRedirectResult Back(string done) => LocalRedirect(FormattableString.Invariant($"/people/{Id}?done={done}"));

    private async Task<IActionResult> RefuseAsync(Person row, FormFields? form, CancellationToken stop)
    {
        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return await ShowAsync(row, form, stop);
    }

    private async Task<IActionResult> ShowAsync(Person row, FormFields? form, CancellationToken stop)
    {
        zone = await IndexModel.ZoneOfAsync(store, visitor, stop);
        Form = form ?? PersonForm.Of(row, words);
        LinkForm ??= new FormFields(words, new Dictionary<string, StringValues> { ["days"] = FormFields.Shown(LinkBook.UsualDays) }) { IdPrefix = "link-" };
        Links = await links.OfAsync(Id, stop);
        var open = await invitations.OpenAsync(stop, Id);
        Standing = new MemberShown(row, open.TryGetValue(Id, out var until) ? until : null, Links.Count(Opens), Links.Max(link => link.LastUsedAt));
        Shown = new PersonFormShown(
            Form, await NewModel.TicksAsync(store, stop), row, row.Id == visitor.Person!.Id, visitor.Cooperative!.GrowersReadAll);
        return Page();
    }
}
