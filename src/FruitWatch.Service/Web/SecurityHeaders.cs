using FruitWatch.Service.Jobs;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Web;

/// <summary>
/// Headers on every answer. Nothing is loaded from elsewhere, nothing runs, nothing is framed but a mail in its own page: there is
/// no script in the pages, so none is allowed.
/// </summary>
internal sealed class SecurityHeaders(RequestDelegate next)
{
    public const string PagePolicy =
        "default-src 'none'; style-src 'self'; img-src 'self'; font-src 'self'; frame-src 'self'; form-action 'self'; "
        + "base-uri 'none'; frame-ancestors 'none'";

    /// <summary>Pages that offer passkeys, which a browser gives to scripts only: our own file, asking ourselves.</summary>
    public const string PasskeyPolicy = PagePolicy + "; script-src 'self'; connect-src 'self'";

    /// <summary>A mail's HTML carries its styles within and is framed by the page that shows it.</summary>
    public const string MailPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; form-action 'none'; base-uri 'none'; "
        + "frame-ancestors 'self'; sandbox";

    /// <summary>Hangfire's pages bring styles and a script of their own, and styles in attributes; nothing from elsewhere.</summary>
    public const string JobsPolicy = "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; font-src 'self'; "
        + "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    public Task InvokeAsync(HttpContext context)
    {
        Put(context);
        return next(context);
    }

    /// <summary>Once more where an answer that broke off was cleared.</summary>
    public static void Put(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers[HeaderNames.ContentSecurityPolicy] = context.Request.Path.StartsWithSegments(Schedule.Dashboard) ? JobsPolicy : PagePolicy;
        headers[HeaderNames.XContentTypeOptions] = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
        if (context.Request.IsHttps)
            headers[HeaderNames.StrictTransportSecurity] = "max-age=31536000";
    }
}
