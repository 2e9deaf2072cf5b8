using System.Buffers.Text;
using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Net.Http.Headers;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>A passkey of one's own.</summary>
/// <param name="Id">Its key, as an address may hold it.</param>
/// <param name="Name">What its holder calls it.</param>
/// <param name="Made">When it was added.</param>
internal sealed record PasskeyShown(string Id, string Name, LocalDate Made);

/// <summary>One's own passkeys: listed, added, named, removed.</summary>
[Right(Right.OwnSignIn)]
internal sealed class PasskeysModel(OwnAccount own, SignInManager<Account> manager) : OwnAccountPage(own)
{
    private const int Most = 20;
    private const int LongestName = 80;

    public IReadOnlyList<PasskeyShown> Keys { get; private set; } = [];

    public async Task OnGetAsync(string? done) => await ShowAsync(done);

    /// <summary>What the browser is to make a key for; the password is asked for before.</summary>
    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostOptionsAsync(string? present, CancellationToken stop)
    {
        if (await ShowAsync() is not { } account)
            return new JsonResult(new { error = Words.SecurityDemo }) { StatusCode = StatusCodes.Status403Forbidden };
        if (Keys.Count >= Most)
            return new JsonResult(new { error = Words.PasskeysFull(Most) }) { StatusCode = StatusCodes.Status422UnprocessableEntity };
        if (await AskAgainAsync(account, "present", present, stop) is not null)
            return new JsonResult(new { error = Errors.Values.First() }) { StatusCode = Response.StatusCode };
        return Content(
            await manager.MakePasskeyCreationOptionsAsync(new PasskeyUserEntity
            {
                Id = account.Id.ToString(CultureInfo.InvariantCulture),
                Name = account.Email!,
                DisplayName = Own.Visitor.Person?.Name ?? account.Email!,
            }),
            "application/json");
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostAddAsync(string? credential, string? name, CancellationToken stop)
    {
        if (await ShowAsync() is not { } account)
            return Page();
        var made = string.IsNullOrEmpty(credential) ? null : await PasskeyForms.AttestAsync(manager, credential);
        // The options that it answers were given to this account, after its password.
        if (made is not { Succeeded: true } || made.UserEntity.Id != account.Id.ToString(CultureInfo.InvariantCulture))
            return Refuse("", Words.PasskeyFailed);
        made.Passkey.Name = NameOf(name) ?? Words.PasskeyNameless(Keys.Count + 1);
        if (!(await Own.Accounts.AddOrUpdatePasskeyAsync(account, made.Passkey)).Succeeded)
            return Refuse("", Words.PasskeyFailed);
        await Own.Accounts.UpdateSecurityStampAsync(account);
        await ToldAsync(account, "passkey.added", AccountNews.PasskeyAdded, stop);
        return LocalRedirect(SignInAddresses.Passkeys + "?done=passkey-added");
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostRenameAsync(string? key, string? name)
    {
        if (await ShowAsync() is not { } account)
            return Page();
        if (await FindAsync(account, key) is not { } passkey)
            return NotFound();
        passkey.Name = NameOf(name) ?? passkey.Name;
        await Own.Accounts.AddOrUpdatePasskeyAsync(account, passkey);
        return LocalRedirect(SignInAddresses.Passkeys + "?done=passkey-renamed");
    }

    [Asks(Right.OwnSignIn)]
    public async Task<IActionResult> OnPostRemoveAsync(string? key, string? present, CancellationToken stop)
    {
        if (await ShowAsync() is not { } account)
            return Page();
        if (await FindAsync(account, key) is not { } passkey)
            return NotFound();
        var place = Keys.ToList().FindIndex(own => own.Id == key);
        if (await AskAgainAsync(account, string.Create(CultureInfo.InvariantCulture, $"present-{place}"), present, stop) is { } refused)
            return refused;
        await Own.Accounts.RemovePasskeyAsync(account, passkey.CredentialId);
        await Own.Accounts.UpdateSecurityStampAsync(account);
        await ToldAsync(account, "passkey.removed", AccountNews.PasskeyRemoved, stop);
        return LocalRedirect(SignInAddresses.Passkeys + "?done=passkey-removed");
    }

    private async Task<UserPasskeyInfo?> FindAsync(Account account, string? key) =>
        key is { Length: < 2000 } && Base64Url.IsValid(key) ? await Own.Accounts.GetPasskeyAsync(account, Base64Url.DecodeFromChars(key)) : null;

    private static string? NameOf(string? name) => string.IsNullOrWhiteSpace(name) ? null : Channels.Email.OneLine.Of(name, LongestName);

    private async Task<Account?> ShowAsync(string? done = null)
    {
        Response.Headers[HeaderNames.ContentSecurityPolicy] = SecurityHeaders.PasskeyPolicy;
        if (await OpenAsync(done) is not { } account)
            return null;
        Keys =
        [
            .. (await Own.Accounts.GetPasskeysAsync(account)).OrderBy(key => key.CreatedAt).Select((key, i) => new PasskeyShown(
                Base64Url.EncodeToString(key.CredentialId), key.Name ?? Words.PasskeyNameless(i + 1), Instant.FromDateTimeOffset(key.CreatedAt).InUtc().Date)),
        ];
        return account;
    }
}
