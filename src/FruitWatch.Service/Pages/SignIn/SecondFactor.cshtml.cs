using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.RateLimiting;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>The code of the app, or a recovery code, after the password.</summary>
[AllowAnonymous]
[EnableRateLimiting(SignInRate.Policy)]
internal sealed class SecondFactorModel(Sessions sessions, Proofs proofs, Landing landing, AccountMails mails, Words words, IClock clock) : SignInPage(words, clock)
{
    public string Back { get; private set; } = "/";

    /// <summary>Somebody has shown a password here a moment ago.</summary>
    public bool Awaited { get; private set; }

    public async Task OnGetAsync(string? back)
    {
        Back = FormPosts.Own(back);
        Awaited = await sessions.AwaitedAsync() is not null;
    }

    public Task<IActionResult> OnPostAsync(string? code, string? back, CancellationToken stop) => TakeAsync("code", code, back, stop);

    public Task<IActionResult> OnPostRecoveryAsync(string? recovery, string? back, CancellationToken stop) => TakeAsync("recovery", recovery, back, stop);

    private async Task<IActionResult> TakeAsync(string field, string? typed, string? back, CancellationToken stop)
    {
        Back = FormPosts.Own(back);
        if (await sessions.AwaitedAsync() is not { } account)
            return Page();
        Awaited = true;
        var recovering = field == "recovery";
        if (string.IsNullOrWhiteSpace(typed) || typed.Length > 40)
            return Refuse(field, Words.SecondWrong(recovering));
        var proof = await proofs.SecondAsync(account, typed, recovering, stop);
        if (proof.NotBefore is { } notBefore)
            return Wait(notBefore);
        if (!proof.Good)
            return Refuse(field, Words.SecondWrong(recovering));
        if (recovering)
            await mails.TellAsync(account, AccountNews.RecoveryCodeUsed, stop);
        var memberships = await sessions.BeginAsync(account, recovering ? "recovery-code" : "second-factor", null, stop);
        return LocalRedirect(await landing.OfAsync(account, memberships, Back, stop));
    }
}
