using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.RateLimiting;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>Sets a password through a mailed link. The device is known from then on, so that no stranger's failures keep its holder out.</summary>
[AllowAnonymous]
[EnableRateLimiting(SignInRate.Policy)]
internal sealed class ResetModel(UserManager<Account> accounts, Devices devices, AccountMails mails, StoreFactory stores, Words words, IClock clock)
    : SignInPage(words, clock)
{
    private readonly IClock clock = clock;

    public string? Account { get; private set; }

    public string? Token { get; private set; }

    /// <summary>Whose password it will be; null where the link leads nowhere.</summary>
    public string? Email { get; private set; }

    public async Task<IActionResult> OnGetAsync(string? account, string? token)
    {
        await OpenAsync(account, token);
        return Answer();
    }

    public async Task<IActionResult> OnPostAsync(string? account, string? token, string? password, CancellationToken stop)
    {
        if (await OpenAsync(account, token) is not { } holder)
            return Answer();
        if (PasswordRules.FaultOf(password ?? "", await AboutAsync(holder, stop)) is { } fault)
            return Refuse("password", Words.PasswordWrong(fault));
        if (!(await accounts.ResetPasswordAsync(holder, token!, password!)).Succeeded)
        {
            Email = null;
            return Answer();
        }

        devices.Remember(holder.Id);
        await mails.TellAsync(holder, AccountNews.PasswordChanged, stop);
        await using var store = stores.CreateDbContext();
        AuditTrail.Note(store, clock.GetCurrentInstant(), "password.reset", Account, via: "nobody");
        await store.SaveChangesAsync(stop);
        return LocalRedirect(SignInAddresses.SignIn + "?done=reset");
    }

    private async Task<IReadOnlyList<string?>> AboutAsync(Account holder, CancellationToken stop) => await AboutPeople.OfAsync(stores, holder, stop);

    private async Task<Account?> OpenAsync(string? account, string? token)
    {
        KeepToItself();
        (Account, Token) = (account, token);
        if (account is null || token is null || await accounts.FindByIdAsync(account) is not { } holder
            || !await accounts.VerifyUserTokenAsync(holder, ResetTokens.Provider, UserManager<Account>.ResetPasswordTokenPurpose, token))
            return null;
        Email = holder.Email;
        return holder;
    }

    private PageResult Answer()
    {
        if (Email is null)
            Response.StatusCode = StatusCodes.Status410Gone;
        return Page();
    }
}
