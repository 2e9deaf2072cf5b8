using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.SignIn;

/// <summary>Where somebody goes on to who has just signed in.</summary>
internal sealed class Landing(UserManager<Account> accounts, StoreFactory stores)
{
    /// <summary>A page, with the one after it.</summary>
    public static string Path(string page, string back) => QueryHelpers.AddQueryString(page, "back", back);

    /// <param name="account">Who.</param>
    /// <param name="memberships">How many there are to choose from.</param>
    /// <param name="back">Where they came from; a page of ours.</param>
    /// <param name="stop">Stops it.</param>
    public async Task<string> OfAsync(Account account, int memberships, string back, CancellationToken stop)
    {
        if (memberships > 1)
            back = Path(SignInAddresses.Membership, back);
        else if (memberships == 0 && back == "/")
            back = SignInAddresses.Security;
        return await LacksSecondAsync(account, stop) ? Path(SignInAddresses.Advice, back) : back;
    }

    /// <summary>Whether somebody who may change everything can be impersonated with a password alone (ASVS 5.0 6.3.3).</summary>
    public async Task<bool> LacksSecondAsync(Account account, CancellationToken stop)
    {
        if (account.TwoFactorEnabled || (await accounts.GetPasskeysAsync(account)).Count > 0)
            return false;
        if (account.Operator)
            return true;
        await using var store = stores.CreateDbContext();
        return await store.People.AnyAsync(row => row.AccountId == account.Id && row.Active && row.Role == Role.Coordinator, stop);
    }
}
