using System.Globalization;
using System.Security.Cryptography;
using FruitWatch.Service.Access;
using FruitWatch.Service.SignIn;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>The authenticator app: begun, confirmed with a code, changed, turned off; and the recovery codes, shown once.</summary>
[Right(Right.OwnSignIn)]
internal sealed class CodesModel(OwnAccount own, IUserStore<Account> store, OneTimeCodes codes, IDataProtectionProvider protection) : OwnAccountPage(own)
{
    public int RecoveryLeft { get; private set; }

    /// <summary>The secret of an app that is being set up.</summary>
    public string? Secret { get; private set; }

    /// <summary>The same, sealed for this account: nothing is kept before a code has shown that the app has it.</summary>
    public string? Held { get; private set; }

    /// <summary>Recovery codes that were just made; they are not shown again.</summary>
    public IReadOnlyList<string>? Recovery { get; private set; }

    public async Task OnGetAsync() => await ShowAsync();

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostBeginAsync(string? present, CancellationToken stop)
    {
        if (await ShowAsync() is not { } account)
            return Page();
        if (await AskAgainAsync(account, "present", present, stop) is { } refused)
            return refused;
        Secret = Own.Accounts.GenerateNewAuthenticatorKey();
        Held = Sealed(account).Protect(Secret);
        return Page();
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostConfirmAsync(string? held, string? code, CancellationToken stop)
    {
        if (await ShowAsync() is not { } account || held is null)
            return Page();
        try
        {
            Secret = Sealed(account).Unprotect(held);
            Held = held;
        }
        catch (CryptographicException)
        {
            return Refuse("", Words.SecurityFailed);
        }

        if (codes.StepOf(Secret, code ?? "", 0) is not { } step)
            return Refuse("code", Words.SecondWrong(recovery: false));
        await ((IUserAuthenticatorKeyStore<Account>)store).SetAuthenticatorKeyAsync(account, Secret, stop);
        await ((IUserAuthenticationTokenStore<Account>)store).SetTokenAsync(
            account, OneTimeCodes.KeptBy, OneTimeCodes.LastStep, step.ToString(CultureInfo.InvariantCulture), stop);
        if (!(await Own.Accounts.SetTwoFactorEnabledAsync(account, true)).Succeeded)
            return Refuse("", Words.SecurityFailed);
        await GiveAsync(account, "second-factor.on", AccountNews.CodesOn, stop);
        return Page();
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostRecoveryAsync(string? present, CancellationToken stop)
    {
        if (await ShowAsync() is not { TwoFactorEnabled: true } account)
            return Page();
        if (await AskAgainAsync(account, "present", present, stop) is { } refused)
            return refused;
        await GiveAsync(account, "second-factor.recovery-codes-renewed", AccountNews.RecoveryCodesRenewed, stop);
        return Page();
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostOffAsync(string? present, CancellationToken stop)
    {
        if (await ShowAsync() is not { TwoFactorEnabled: true } account)
            return Page();
        if (await AskAgainAsync(account, "present", present, stop) is { } refused)
            return refused;
        await ((IUserAuthenticationTokenStore<Account>)store).RemoveTokenAsync(account, OneTimeCodes.KeptBy, OneTimeCodes.LastStep, stop);
        await ((IUserTwoFactorRecoveryCodeStore<Account>)store).ReplaceCodesAsync(account, [], stop);
        await ((IUserAuthenticatorKeyStore<Account>)store).SetAuthenticatorKeyAsync(account, "", stop);
        if (!(await Own.Accounts.SetTwoFactorEnabledAsync(account, false)).Succeeded)
            return Refuse("", Words.SecurityFailed);
        await ToldAsync(account, "second-factor.off", AccountNews.CodesOff, stop);
        return LocalRedirect(SignInAddresses.Security + "?done=codes-off");
    }

    private async Task GiveAsync(Account account, string action, AccountNews news, CancellationToken stop)
    {
        Recovery = [.. await Own.Accounts.GenerateNewTwoFactorRecoveryCodesAsync(account, AccountManager.CodesAtOnce) ?? []];
        await ToldAsync(account, action, news, stop);
        Said = Words.SecurityDone(news == AccountNews.CodesOn ? "codes-on" : "recovery");
    }

    private async Task<Account?> ShowAsync()
    {
        if (await OpenAsync() is not { } account)
            return null;
        RecoveryLeft = account.TwoFactorEnabled ? await Own.Accounts.CountRecoveryCodesAsync(account) : 0;
        return account;
    }

    private IDataProtector Sealed(Account account) =>
        protection.CreateProtector("AuthenticatorKey.new.v1", account.Id.ToString(CultureInfo.InvariantCulture), account.SecurityStamp ?? "");
}
