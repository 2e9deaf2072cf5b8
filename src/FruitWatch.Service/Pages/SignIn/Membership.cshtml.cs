using FruitWatch.Service.Access;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>For whoever is a member of several cooperatives: as which one they are here. A session is for one of them at a time.</summary>
[Right(Right.OwnSignIn)]
internal sealed class MembershipModel(Visitor visitor, Sessions sessions, UserManager<Account> accounts, StoreFactory stores) : PageModel
{
    public string Back { get; private set; } = "/";

    public long? Current => visitor.Person?.Id;

    public IReadOnlyList<(Person Person, string Cooperative)> Memberships { get; private set; } = [];

    public Task OnGetAsync(string? back, CancellationToken stop) => OpenAsync(back, stop);

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostAsync(long person, string? back, CancellationToken stop)
    {
        await OpenAsync(back, stop);
        if (visitor.AccountId is not { } key || await accounts.FindByIdAsync(key.ToString(System.Globalization.CultureInfo.InvariantCulture)) is not { } account
            || Memberships.All(own => own.Person.Id != person))
            return NotFound();
        await sessions.ContinueAsync(account, person);
        return LocalRedirect(Back);
    }

    private async Task OpenAsync(string? back, CancellationToken stop)
    {
        Back = FormPosts.Own(back);
        if (visitor.AccountId is not { } account)
            return;
        var own = await sessions.MembershipsAsync(account, stop);
        var keys = own.Select(person => person.CooperativeId).ToArray();
        await using var store = stores.CreateDbContext();
        var names = await store.Cooperatives.Where(row => EF.Parameter(keys).Contains(row.Id)).ToDictionaryAsync(row => row.Id, row => row.Name, stop);
        Memberships = [.. own.Select(person => (person, names[person.CooperativeId]))];
    }
}
