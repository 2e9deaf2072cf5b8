using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>The first account of all: its holder runs the service and coordinates the first cooperative.</summary>
[AllowAnonymous]
[EnableRateLimiting(SignInRate.Policy)]
internal sealed class SetupModel(
    StoreFactory stores, Newcomers newcomers, Sessions sessions, Landing landing, UserManager<Account> accounts, AccountMails mails, Words words, IClock clock)
    : SignInPage(words, clock)
{
    private const int LongestName = 80;
    private readonly IClock clock = clock;

    /// <summary>The code opens it.</summary>
    public bool Open { get; private set; }

    public string Path { get; private set; } = "";

    public string? Cooperative { get; private set; }

    public string? Name { get; private set; }

    public string? Email { get; private set; }

    public async Task<IActionResult> OnGetAsync(string code, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        await OpenAsync(store, code, stop);
        // A store of before there were accounts: its cooperative gets its coordinator.
        if (Open && await store.Cooperatives.CountAsync(stop) == 1)
            Cooperative = await store.Cooperatives.Select(row => row.Name).SingleAsync(stop);
        return Answer();
    }

    public async Task<IActionResult> OnPostAsync(string code, string? cooperative, string? name, string? email, string? password, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var kept = await OpenAsync(store, code, stop);
        if (kept is null)
            return Answer();
        (Cooperative, Name, Email) = (cooperative?.Trim(), name?.Trim(), email?.Trim());
        if (string.IsNullOrEmpty(Cooperative) || Cooperative.Length > LongestName)
            return Refuse("cooperative", Words.SetupNameWrong);
        if (string.IsNullOrEmpty(Name) || Name.Length > LongestName)
            return Refuse("name", Words.SetupNameWrong);
        if (Email is null || Email.Length > 254 || !MailOptions.IsOneAddress(Email))
            return Refuse("email", Words.SignInEmailWrong);
        if (PasswordRules.FaultOf(password ?? "", [Cooperative, Name, Email]) is { } fault)
            return Refuse("password", Words.PasswordWrong(fault));

        // The address may be mistyped: it counts as theirs when they have opened the link that is sent there.
        var account = newcomers.Make(Email, password, confirmed: false, clock.GetCurrentInstant());
        account.Operator = true;
        if (!await FirstRun.MakeAsync(store, kept, account, new Coordinator(Cooperative, Name, Email, Words.Language), clock, stop))
        {
            Open = false;
            return Answer();
        }

        await mails.TellAsync(account, AccountNews.ConfirmAddress, stop, await AddressModel.ConfirmAsync(accounts, account));
        var memberships = await sessions.BeginAsync(account, "setup", null, stop);
        return LocalRedirect(await landing.OfAsync(account, memberships, "/", stop));
    }

    private async Task<string?> OpenAsync(FruitWatchStore store, string code, CancellationToken stop)
    {
        KeepToItself();
        Path = $"/setup/{Uri.EscapeDataString(code)}";
        var kept = await FirstRun.FindAsync(store, code, clock, stop);
        Open = kept is not null;
        return kept;
    }

    private PageResult Answer()
    {
        if (!Open)
            Response.StatusCode = StatusCodes.Status410Gone;
        return Page();
    }
}
