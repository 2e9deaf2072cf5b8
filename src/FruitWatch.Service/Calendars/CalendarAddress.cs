using System.Buffers.Text;
using System.Globalization;
using System.Security.Cryptography;
using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Calendars;

/// <summary>
/// The address that calendar programs read. Its secret is all the authority there is: programs have no session. Whether a secret is
/// unknown, taken back, or of somebody who has left is not told to whoever tries.
/// </summary>
internal static class CalendarAddress
{
    private const string Path = "/calendar/";

    /// <summary>Many programs know a calendar by it; the address is the same without.</summary>
    private const string Ending = ".ics";

    /// <summary>The address that its owner is shown once.</summary>
    public static string Of(Uri baseUrl, string secret) => baseUrl.AbsoluteUri.TrimEnd('/') + Path + secret + Ending;

    /// <summary>The same for a link that a calendar program opens by itself.</summary>
    public static string ForPrograms(string address) => "webcal" + address[address.IndexOf(':', StringComparison.Ordinal)..];

    public static void MapCalendars(this IEndpointRouteBuilder app) =>
        app.MapGet(Path + "{secret}", AnswerAsync).ForEverybody().ExcludeFromDescription();

    private static async Task<IResult> AnswerAsync(HttpContext context, CalendarReader reader, CalendarWriter writer, CalendarPace pace, Words words)
    {
        var stop = context.RequestAborted;
        var headers = context.Response.Headers;
        headers["Referrer-Policy"] = "no-referrer";
        headers["X-Robots-Tag"] = "noindex";
        headers.CacheControl = "no-store";
        var secret = SecretAddresses.Of(context);
        if (secret?.EndsWith(Ending, StringComparison.OrdinalIgnoreCase) == true)
            secret = secret[..^Ending.Length];
        if (await reader.FindAsync(secret, stop) is not { } feed)
            return Refusal(context, pace.OfGuess(context), words);
        if (pace.OfFeed(feed.Id) is { } wait)
            return Refusal(context, wait, words);
        if (await reader.ReadAsync(feed, stop) is not { } content)
            return Refusal(context, null, words);
        await reader.NoteAsync(feed, stop);
        var bytes = writer.Write(content);
        var tag = $"\"{Base64Url.EncodeToString(SHA256.HashData(bytes).AsSpan(0, 16))}\"";
        headers.ETag = tag;
        headers.CacheControl = "private, no-cache";
        if (EntityTagHeaderValue.TryParseList(context.Request.Headers.IfNoneMatch, out var known) && known.Any(one => one.Tag == "*" || one.Tag == tag))
            return Results.StatusCode(StatusCodes.Status304NotModified);
        headers.ContentDisposition = "inline; filename=fruitwatch.ics";
        return Results.Bytes(bytes, "text/calendar; charset=utf-8");
    }

    // A line of text and not a page: who reads it is a program.
    private static IResult Refusal(HttpContext context, TimeSpan? wait, Words words)
    {
        if (wait is null)
            return Results.Text(words.CalendarsUnknown + "\n", "text/plain; charset=utf-8", statusCode: StatusCodes.Status404NotFound);
        context.Response.Headers.RetryAfter = ((int)Math.Ceiling(wait.Value.TotalSeconds)).ToString(CultureInfo.InvariantCulture);
        return Results.Text(words.CalendarsTooOften + "\n", "text/plain; charset=utf-8", statusCode: StatusCodes.Status429TooManyRequests);
    }
}
