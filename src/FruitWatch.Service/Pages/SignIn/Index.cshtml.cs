using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.Net.Http.Headers;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>Signing in by password or by passkey.</summary>
[AllowAnonymous]
[EnableRateLimiting(SignInRate.Policy)]
internal sealed class IndexModel(
    PasswordDoor door, Sessions sessions, Landing landing, SignInManager<Account> manager, UserManager<Account> accounts, Words words, IClock clock)
    : SignInPage(words, clock)
{
    /// <summary>Where to go on to; a page of ours.</summary>
    public string Back { get; private set; } = "/";

    /// <summary>What was typed.</summary>
    public string? Email { get; private set; }

    /// <summary>What was done on the page before.</summary>
    public string? Said { get; private set; }

    public void OnGet(string? back, string? done)
    {
        Open(back);
        Said = done is null ? null : Words.SignInDone(done);
    }

    public async Task<IActionResult> OnPostAsync(string? email, string? password, string? back, CancellationToken stop)
    {
        Open(back);
        Email = email;
        if (string.IsNullOrWhiteSpace(email) || string.IsNullOrEmpty(password) || email.Length > 254)
            return Refuse("", Words.SignInWrong);
        var attempt = await door.TryAsync(email, password, stop);
        if (attempt.NotBefore is { } notBefore)
            return Wait(notBefore);
        if (attempt.Account is not { } account)
            return Refuse("", Words.SignInWrong);
        if (account.TwoFactorEnabled)
        {
            await sessions.AwaitSecondAsync(account);
            return LocalRedirect(Landing.Path(SignInAddresses.SecondFactor, Back));
        }

        return LocalRedirect(await landing.OfAsync(account, await sessions.BeginAsync(account, "password", null, stop), Back, stop));
    }

    /// <summary>What the browser is to have signed.</summary>
    public async Task<IActionResult> OnPostOptionsAsync() => Content(await manager.MakePasskeyRequestOptionsAsync(null), "application/json");

    public async Task<IActionResult> OnPostPasskeyAsync(string? credential, string? back, CancellationToken stop)
    {
        Open(back);
        if (string.IsNullOrEmpty(credential))
            return Refuse("", Words.PasskeyFailed);
        // The key asks its holder for a finger, a face or a PIN, so it stands for both factors.
        var shown = await PasskeyForms.AssertAsync(manager, credential);
        if (shown is not { Succeeded: true })
        {
            await door.NoteAsync(null, "passkey", stop);
            return Refuse("", Words.PasskeyFailed);
        }

        await accounts.AddOrUpdatePasskeyAsync(shown.User, shown.Passkey);
        return LocalRedirect(await landing.OfAsync(shown.User, await sessions.BeginAsync(shown.User, "passkey", null, stop), Back, stop));
    }

    private void Open(string? back)
    {
        Back = FormPosts.Own(back);
        Response.Headers[HeaderNames.ContentSecurityPolicy] = SecurityHeaders.PasskeyPolicy;
    }
}
