using System.Diagnostics;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Web;

/// <summary>
/// Refusals of the web API as problem details (RFC 9457). The type of a problem is a stable name that a program can rely on; title
/// and detail are for people.
/// </summary>
internal static class ApiProblems
{
    public const string Root = "/api/v1";
    public const string TypeRoot = "urn:fruitwatch:problem:";

    /// <summary>Whether a request is one to the API, so that its refusal is for a program. /api alone is a page about it.</summary>
    public static bool Concerns(HttpRequest request) =>
        (request.Path.StartsWithSegments("/api", out var rest) && rest.Value is { Length: > 1 }) || request.Path.StartsWithSegments("/openapi");

    public static void AddApiProblems(this IServiceCollection services) => services.AddProblemDetails(options =>
        options.CustomizeProblemDetails = context =>
        {
            var problem = context.ProblemDetails;
            problem.Extensions["traceId"] = Activity.Current?.Id ?? context.HttpContext.TraceIdentifier;
            // What the framework refuses by itself gets a type of ours; its own point to the sections of an RFC.
            if (problem.Type?.StartsWith(TypeRoot, StringComparison.Ordinal) != true)
                problem.Type = TypeRoot + TypeOf(problem.Status);
        });

    /// <summary>Nothing is kept under this address.</summary>
    public static ProblemHttpResult NotFound(string what, object id) =>
        Of(StatusCodes.Status404NotFound, "Not found", FormattableString.Invariant($"There is no {what} {id}."));

    /// <summary>Some fields are not as they should be.</summary>
    public static ProblemHttpResult Fields(IReadOnlyDictionary<string, string[]> errors) => Of(
        StatusCodes.Status400BadRequest,
        "The request cannot be taken as it is",
        "Nothing was changed. See errors: what is wrong, by field.",
        errors);

    /// <summary>One field is not as it should be.</summary>
    public static ProblemHttpResult Field(string field, string error) => Fields(new Dictionary<string, string[]> { [field] = [error] });

    /// <summary>No token, or none that opens anything.</summary>
    public static ProblemHttpResult Unknown() => Of(
        StatusCodes.Status401Unauthorized,
        "Who is asking?",
        "Send a token that is still good: Authorization: Bearer fw_… Tokens are made on the page of your account.");

    /// <summary>The token's scopes, or its owner's role, do not reach so far.</summary>
    public static ProblemHttpResult NotAllowed() => Of(
        StatusCodes.Status403Forbidden, "Not allowed", "The scopes of the token, or the role of the person it acts for, do not reach so far.");

    /// <summary>It can be seen, but is not the visitor's to change.</summary>
    public static ProblemHttpResult NotOwn(string what, object id) => Of(
        StatusCodes.Status403Forbidden, "Not allowed", FormattableString.Invariant($"The {what} {id} can be read, but it is another grower's."));

    /// <summary>The request stands against something that is kept.</summary>
    public static ProblemHttpResult Conflict(string detail) => Of(StatusCodes.Status409Conflict, "Conflict", detail);

    /// <summary>The same request, under the same Idempotency-Key, has not ended.</summary>
    public static ProblemHttpResult StillDone(HttpContext context)
    {
        context.Response.Headers.RetryAfter = "1";
        return Of(StatusCodes.Status409Conflict, "Still being done", "The request that came first under this Idempotency-Key has not ended. Send it again in a moment for its answer.");
    }

    /// <summary>The Idempotency-Key was used for something else.</summary>
    public static ProblemHttpResult OtherRequest() => Of(
        StatusCodes.Status422UnprocessableEntity,
        "Another request",
        "This Idempotency-Key was used within the last 24 hours for another address or body. Nothing was done. Send a new request under a new key.");

    /// <summary>It was changed since the version that If-Match names.</summary>
    public static ProblemHttpResult Outdated() => Of(
        StatusCodes.Status412PreconditionFailed,
        "Changed meanwhile",
        "It is no longer the version that If-Match names. Nothing was changed. Get it again, and send the change again.");

    /// <summary>An edit has to say which version it is meant for.</summary>
    public static ProblemHttpResult Unconditional() => Of(
        StatusCodes.Status428PreconditionRequired,
        "Which version?",
        "Send the ETag of the version that you have seen as If-Match, so that nobody's change is overwritten unseen. Nothing was changed.");

    /// <summary>The body is in a form that is not read.</summary>
    public static ProblemHttpResult MediaType() => Of(
        StatusCodes.Status415UnsupportedMediaType, "Not JSON", "Send the body as application/json in UTF-8.");

    /// <summary>The body is larger than any that makes sense.</summary>
    public static ProblemHttpResult TooLarge(int limit) => Of(
        StatusCodes.Status413PayloadTooLarge, "Too large", FormattableString.Invariant($"The body may have {limit} bytes at most."));

    /// <summary>The address is longer than any that makes sense.</summary>
    public static ProblemHttpResult AddressTooLong(int limit) => Of(
        StatusCodes.Status414UriTooLong, "Address too long", FormattableString.Invariant($"An address may have {limit} characters at most."));

    /// <summary>Too many header fields, or too long ones.</summary>
    public static ProblemHttpResult HeadersTooLarge(string limit) => Of(
        StatusCodes.Status431RequestHeaderFieldsTooLarge, "Headers too large", $"The header fields may be {limit} at most.");

    /// <summary>None of the forms that are accepted can be given.</summary>
    public static ProblemHttpResult NotAcceptable(IEnumerable<string> given) => Of(
        StatusCodes.Status406NotAcceptable, "Not acceptable", $"This is given as {string.Join(", ", given)} only. Send Accept with one of these, or without.");

    /// <summary>
    /// What routing or the framework refused with a bare status. Written whatever Accept says: the framework's own would be plain text
    /// for who accepts no JSON.
    /// </summary>
    public static ProblemHttpResult OfStatus(int status) => status switch
    {
        StatusCodes.Status401Unauthorized => Unknown(),
        StatusCodes.Status403Forbidden => NotAllowed(),
        StatusCodes.Status404NotFound => Of(status, "Not found", "Nothing is kept under this address."),
        StatusCodes.Status405MethodNotAllowed => Of(status, "Not by this method", "The address is known, but not by this method. Allow says by which."),
        _ => Broken(status),
    };

    /// <summary>The request was broken on its way, or is no HTTP.</summary>
    public static ProblemHttpResult Broken(int status) => status switch
    {
        StatusCodes.Status413PayloadTooLarge => Of(status, "Too large", "The body is larger than is taken here."),
        StatusCodes.Status408RequestTimeout => Of(status, "Too slow", "The body did not come in time."),
        StatusCodes.Status415UnsupportedMediaType => MediaType(),
        not StatusCodes.Status400BadRequest => Of(status, "Refused", "The request cannot be answered as it is."),
        _ => Of(status, "The request cannot be taken as it is", "The body, or a value in the address, is not what its description says, or ended before its end."),
    };

    /// <summary>Asked for more often than others can bear.</summary>
    public static ProblemHttpResult TooOften(HttpContext? context, string detail, TimeSpan wait)
    {
        if (context is not null)
            context.Response.Headers.RetryAfter = ((int)Math.Ceiling(wait.TotalSeconds)).ToString(System.Globalization.CultureInfo.InvariantCulture);
        return Of(StatusCodes.Status429TooManyRequests, "Too often", detail);
    }

    /// <summary>Something broke; the log tells it under this number.</summary>
    public static ProblemHttpResult Failed(string trace) => TypedResults.Problem(new ProblemDetails
    {
        Type = TypeRoot + TypeOf(StatusCodes.Status500InternalServerError),
        Title = "The service failed",
        Status = StatusCodes.Status500InternalServerError,
        Detail = "The request may be right; the operator finds the fault in the log by the traceId.",
        Extensions = { ["traceId"] = trace },
    });

    /// <summary>Two edits at once: the second one is told, whichever way it came.</summary>
    public static async ValueTask<object?> AnswerConflictsAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        try
        {
            return await next(context);
        }
        catch (DbUpdateConcurrencyException)
        {
            return Conflict("Somebody else changed it at the same moment. Nothing was changed. Get it again, and send the change again.");
        }
    }

    private static ProblemHttpResult Of(
        int status, string title, string detail, IReadOnlyDictionary<string, string[]>? errors = null)
    {
        var problem = new ProblemDetails { Type = TypeRoot + TypeOf(status), Title = title, Status = status, Detail = detail };
        if (errors is not null)
            problem.Extensions["errors"] = errors;
        return TypedResults.Problem(problem);
    }

    private static string TypeOf(int? status) => status switch
    {
        400 => "fields",
        401 => "unknown",
        403 => "not-allowed",
        404 => "not-found",
        405 => "method",
        409 => "conflict",
        412 => "outdated",
        408 => "too-slow",
        406 => "not-acceptable",
        413 => "too-large",
        414 => "address-too-long",
        415 => "media-type",
        422 => "other-request",
        428 => "version-needed",
        429 => "too-often",
        431 => "headers-too-large",
        500 => "failed",
        _ => "refused",
    };
}
