using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.RateLimiting;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>Where somebody who was invited becomes a member: with a new account, or with the one that they have.</summary>
[AllowAnonymous]
[EnableRateLimiting(SignInRate.Policy)]
internal sealed class InvitationModel(
    Newcomers newcomers, Visitor visitor, UserManager<Account> accounts, Sessions sessions, Landing landing, Words words, IClock clock)
    : SignInPage(words, clock)
{
    /// <summary>The invitation; null where it cannot be accepted, whatever the reason: that is nobody's business.</summary>
    public Invited? Invited { get; private set; }

    /// <summary>This page.</summary>
    public string Path { get; private set; } = "";

    /// <summary>Address of the account in whose session this is.</summary>
    public string? SignedInAs { get; private set; }

    public async Task<IActionResult> OnGetAsync(string secret, CancellationToken stop)
    {
        await OpenAsync(secret, stop);
        return Answer();
    }

    public async Task<IActionResult> OnPostAsync(string secret, string? password, CancellationToken stop)
    {
        var own = await OpenAsync(secret, stop);
        if (Invited is not { } invited)
            return Answer();
        if (own is not null)
        {
            if (!await newcomers.AcceptAsync(invited, own.Id, stop))
                return Refuse("", Words.InvitationAlready);
            await sessions.ContinueAsync(own, invited.Person.Id);
            return LocalRedirect("/");
        }

        if (invited.HasAccount)
            return Refuse("", Words.InvitationHasAccount(invited.Person.Email));
        if (PasswordRules.FaultOf(password ?? "", [invited.Person.Name, invited.Person.Email, invited.Cooperative.Name]) is { } fault)
            return Refuse("password", Words.PasswordWrong(fault));
        if (await newcomers.AcceptAsync(invited, password!, stop) is not { } account)
        {
            Invited = null;
            return Answer();
        }

        var memberships = await sessions.BeginAsync(account, "invitation", invited.Person.Id, stop);
        return LocalRedirect(await landing.OfAsync(account, memberships, "/", stop));
    }

    private async Task<Account?> OpenAsync(string secret, CancellationToken stop)
    {
        KeepToItself();
        Path = $"/invitation/{Uri.EscapeDataString(secret)}";
        Invited = await newcomers.FindAsync(secret, stop) is { Open: true } open ? open : null;
        var own = visitor.AccountId is { } key ? await accounts.FindByIdAsync(key.ToString(CultureInfo.InvariantCulture)) : null;
        SignedInAs = own?.Email;
        return own;
    }

    private PageResult Answer()
    {
        if (Invited is null)
            Response.StatusCode = StatusCodes.Status410Gone;
        return Page();
    }
}
