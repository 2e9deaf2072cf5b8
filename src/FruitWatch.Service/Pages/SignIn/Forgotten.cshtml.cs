using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.RateLimiting;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>Asks for a link with which to set a new password. The answer is the same whether the address is known.</summary>
[AllowAnonymous]
[EnableRateLimiting(SignInRate.Policy)]
internal sealed class ForgottenModel(ForgottenPasswords passwords, Words words, IClock clock) : SignInPage(words, clock)
{
    /// <summary>For which address; null while none was sent.</summary>
    public string? Asked { get; private set; }

    public IActionResult OnPost(string? email)
    {
        if (string.IsNullOrWhiteSpace(email) || email.Length > 254 || !MailOptions.IsOneAddress(email))
            return Refuse("email", Words.SignInEmailWrong);
        passwords.Ask(email.Trim(), Words.Language);
        Asked = OneLine.Of(email, 254);
        return Page();
    }
}
