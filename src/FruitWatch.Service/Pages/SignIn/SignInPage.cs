using System.Globalization;
using FruitWatch.Service.Text;
using Microsoft.AspNetCore.Mvc.RazorPages;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>What the pages around signing in have in common: refusals at their fields, waits, and that they are kept by nobody.</summary>
internal abstract class SignInPage(Words words, IClock clock) : PageModel
{
    private readonly Dictionary<string, string> errors = [];

    protected Words Words => words;

    /// <summary>What is wrong, by the id of its field; an empty one for the form as a whole.</summary>
    public IReadOnlyDictionary<string, string> Errors => errors;

    /// <summary>The title, which says when something is wrong.</summary>
    public string Titled(string title) => errors.Count == 0 ? title : $"{words.ErrorPrefix} {title}";

    protected PageResult Refuse(string field, string error, int status = StatusCodes.Status422UnprocessableEntity)
    {
        errors[field] = error;
        Response.StatusCode = status;
        return Page();
    }

    /// <summary>Not looked at before then.</summary>
    protected PageResult Wait(Instant notBefore)
    {
        var seconds = Math.Max(1, (int)Math.Ceiling((notBefore - clock.GetCurrentInstant()).TotalSeconds));
        Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        return Refuse("", words.SignInWait(seconds), StatusCodes.Status429TooManyRequests);
    }

    /// <summary>
    /// The address of the page holds a secret, or the page itself does: no referrer, no cache, no index (ASVS 5.0 14.2.1, 14.3.2).
    /// </summary>
    protected void KeepToItself()
    {
        Response.Headers["Referrer-Policy"] = "no-referrer";
        Response.Headers.CacheControl = "no-store";
        Response.Headers["X-Robots-Tag"] = "noindex";
    }
}

/// <summary>A field of these pages.</summary>
/// <param name="Name">Its name in the form.</param>
/// <param name="Label">What is asked for.</param>
/// <param name="Type"><c>text</c>, <c>email</c>, <c>password</c>.</param>
/// <param name="Autocomplete">What a browser or a password manager may fill in (HTML, autofill detail tokens).</param>
/// <param name="Errors">What is wrong on the page.</param>
internal sealed record Asked(string Name, string Label, string Type, string Autocomplete, IReadOnlyDictionary<string, string> Errors)
{
    /// <summary>Unique on the page, where the name is not.</summary>
    public string Id { get; init; } = Name;

    public string? Value { get; init; }

    public string? Hint { get; init; }

    public string? InputMode { get; init; }

    public int Most { get; init; } = 200;

    public string? Error => Errors.GetValueOrDefault(Id);

    public string? DescribedBy => (Hint, Error) switch
    {
        (null, null) => null,
        (not null, null) => $"{Id}-hint",
        (null, not null) => $"{Id}-error",
        _ => $"{Id}-error {Id}-hint",
    };
}
