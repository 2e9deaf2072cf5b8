using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>Where a mailed link leads that confirms an address: the one that an account has, or a new one, which counts from then on.</summary>
[AllowAnonymous]
[EnableRateLimiting(SignInRate.Policy)]
internal sealed class AddressModel(
    UserManager<Account> accounts, Visitor visitor, Sessions sessions, AccountMails mails, StoreFactory stores, Words words, IClock clock)
    : SignInPage(words, clock)
{
    private readonly IClock clock = clock;

    public string? Account { get; private set; }

    public string? Token { get; private set; }

    /// <summary>The new address; null where the present one is confirmed.</summary>
    public string? To { get; private set; }

    /// <summary>The address that is confirmed.</summary>
    public string? Email { get; private set; }

    public bool Good { get; private set; }

    public bool Done { get; private set; }

    /// <summary>Where the present address is confirmed.</summary>
    public static async Task<string> ConfirmAsync(UserManager<Account> accounts, Account account) =>
        AddressOf(account, await accounts.GenerateEmailConfirmationTokenAsync(account), null);

    /// <summary>Where a new address is confirmed.</summary>
    public static async Task<string> ChangeAsync(UserManager<Account> accounts, Account account, string to) =>
        AddressOf(account, await accounts.GenerateChangeEmailTokenAsync(account, to), to);

    public async Task<IActionResult> OnGetAsync(string? account, string? token, string? to)
    {
        await OpenAsync(account, token, to);
        return Answer();
    }

    public async Task<IActionResult> OnPostAsync(string? account, string? token, string? to, CancellationToken stop)
    {
        if (await OpenAsync(account, token, to) is not { } holder)
            return Answer();
        var old = holder.Email!;
        Good = Done = (To is null ? await accounts.ConfirmEmailAsync(holder, token!) : await ChangeAsync(holder, token!)).Succeeded;
        if (!Good)
            return Answer();
        await CarryOverAsync(holder, old, stop);
        if (To is not null)
            await mails.TellAsync(holder, AccountNews.AddressChanged, stop, to: old);
        // The stamp has changed, and with it every other session has ended.
        if (visitor.AccountId == holder.Id)
            await sessions.ContinueAsync(holder, visitor.Person?.Id);
        return Page();
    }

    private async Task<IdentityResult> ChangeAsync(Account holder, string token)
    {
        // Name and address are one, and are saved in one go.
        holder.UserName = To;
        return await accounts.ChangeEmailAsync(holder, To!, token);
    }

    /// <summary>What the cooperatives send goes to the same address as before; another one that somebody chose there stays.</summary>
    private async Task CarryOverAsync(Account holder, string old, CancellationToken stop)
    {
        var before = Person.Normalize(old);
        var now = clock.GetCurrentInstant();
        await using var store = stores.CreateDbContext();
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        foreach (var person in await store.People.Where(row => row.AccountId == holder.Id && row.EmailNormalized == before).ToListAsync(stop))
        {
            var after = Person.Normalize(holder.Email!);
            if (await store.People.AnyAsync(row => row.CooperativeId == person.CooperativeId && row.EmailNormalized == after && row.Id != person.Id, stop))
                continue;
            (person.Email, person.EmailConfirmedAt) = (holder.Email!, now);
            // The link that was followed came by mail.
            MailPause.End(person);
            if (after != before)
                await WaitingMails.EndAllAsync(store, person.Id, WaitingMails.Moved, now, stop);
            AuditTrail.Note(store, now, To is null ? "address.confirmed" : "address.changed", Account, null, "session", person.CooperativeId, person.Id);
        }

        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
    }

    private async Task<Account?> OpenAsync(string? account, string? token, string? to)
    {
        KeepToItself();
        (Account, Token, To) = (account, token, string.IsNullOrEmpty(to) ? null : to);
        if (account is null || token is null || await accounts.FindByIdAsync(account) is not { } holder)
            return null;
        Email = To ?? holder.Email;
        var purpose = To is null ? UserManager<Account>.ConfirmEmailTokenPurpose : UserManager<Account>.GetChangeEmailTokenPurpose(To);
        Good = await accounts.VerifyUserTokenAsync(holder, TokenOptions.DefaultProvider, purpose, token);
        return Good ? holder : null;
    }

    private PageResult Answer()
    {
        if (!Good)
            Response.StatusCode = StatusCodes.Status410Gone;
        return Page();
    }

    private static string AddressOf(Account account, string token, string? to)
    {
        var query = new Dictionary<string, string?> { ["account"] = account.Id.ToString(CultureInfo.InvariantCulture), ["token"] = token };
        if (to is not null)
            query["to"] = to;
        return QueryHelpers.AddQueryString(SignInAddresses.Address, query);
    }
}
