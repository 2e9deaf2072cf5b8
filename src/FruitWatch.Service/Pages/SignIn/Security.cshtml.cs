using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.SignIn;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>One's own way of signing in: password, address, second factors, sessions.</summary>
[Right(Right.OwnSignIn)]
internal sealed class SecurityModel(OwnAccount own, Landing landing) : OwnAccountPage(own)
{
    public int RecoveryLeft { get; private set; }

    public int Passkeys { get; private set; }

    /// <summary>May change everything, and shows nothing but a password.</summary>
    public bool LacksSecond { get; private set; }

    public bool IsMember => Own.Visitor.Person is not null;

    public string PresentLabel => Holder!.TwoFactorEnabled ? Words.SecurityPresentOrCode : Words.SecurityPresent;

    public async Task OnGetAsync(string? done, CancellationToken stop) => await ShowAsync(done, stop);

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostPasswordAsync(string? present, string? password, CancellationToken stop)
    {
        if (await ShowAsync(null, stop) is not { } account)
            return Page();
        if (await AskAgainAsync(account, "password-present", present, stop, codeWillDo: false) is { } refused)
            return refused;
        if (PasswordRules.FaultOf(password ?? "", await AboutPeople.OfAsync(Own.Stores, account, stop)) is { } fault)
            return Refuse("password", Words.PasswordWrong(fault));
        if (!(await Own.Accounts.ChangePasswordAsync(account, present!, password!)).Succeeded)
            return Refuse("", Words.SecurityFailed);
        await ToldAsync(account, "password.changed", AccountNews.PasswordChanged, stop);
        return LocalRedirect(SignInAddresses.Security + "?done=password");
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostAddressAsync(string? email, string? present, CancellationToken stop)
    {
        if (await ShowAsync(null, stop) is not { } account)
            return Page();
        email = email?.Trim();
        if (email is null || email.Length > 254 || !MailOptions.IsOneAddress(email))
            return Refuse("email", Words.SignInEmailWrong);
        if (await AskAgainAsync(account, "address-present", present, stop) is { } refused)
            return refused;
        // Whether another account has the address is nobody's business: then no mail goes out, and nothing changes.
        if (await Own.Accounts.FindByEmailAsync(email) is null)
            await Own.Mails.TellAsync(account, AccountNews.NewAddress, stop, await AddressModel.ChangeAsync(Own.Accounts, account, email), email);
        return LocalRedirect(SignInAddresses.Security + "?done=address");
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostConfirmAsync(CancellationToken stop)
    {
        if (await ShowAsync(null, stop) is not { } account)
            return Page();
        await Own.Mails.TellAsync(account, AccountNews.ConfirmAddress, stop, await AddressModel.ConfirmAsync(Own.Accounts, account));
        return LocalRedirect(SignInAddresses.Security + "?done=confirm");
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostEverywhereAsync(CancellationToken stop)
    {
        if (await ShowAsync(null, stop) is not { } account)
            return Page();
        await Own.Accounts.UpdateSecurityStampAsync(account);
        await ToldAsync(account, "sign-in.ended-everywhere", null, stop);
        await HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
        return LocalRedirect(SignInAddresses.SignIn + "?done=everywhere");
    }

    private async Task<Store.Entities.Account?> ShowAsync(string? done, CancellationToken stop)
    {
        if (await OpenAsync(done) is not { } account)
            return null;
        RecoveryLeft = account.TwoFactorEnabled ? await Own.Accounts.CountRecoveryCodesAsync(account) : 0;
        Passkeys = (await Own.Accounts.GetPasskeysAsync(account)).Count;
        LacksSecond = await landing.LacksSecondAsync(account, stop);
        return account;
    }
}
