using System.Globalization;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Web;

/// <summary>Versions of single rows in HTTP: a reader is spared what it has, an editor is kept from overwriting what it has not seen.</summary>
internal static class ETags
{
    public static string Of(IEdited row) => $"\"{row.Version.ToString(CultureInfo.InvariantCulture)}\"";

    /// <summary>The row as JSON with its ETag, or 304 where the reader has this version.</summary>
    public static Results<Ok<T>, StatusCodeHttpResult> Ok<T>(HttpContext context, IEdited row, T shown)
    {
        context.Response.Headers.ETag = Of(row);
        context.Response.Headers.CacheControl = "no-cache";
        return Matches(context.Request.Headers.IfNoneMatch, row)
            ? TypedResults.StatusCode(StatusCodes.Status304NotModified)
            : TypedResults.Ok(shown);
    }

    /// <summary>
    /// The refusal where an edit does not name the version that is kept: 428 where it names none (RFC 6585 §3), 412 where it names
    /// another (RFC 9110 §13.1.1). Null where it may go on. Tell the description of the API with <see cref="Endpoints.NeedingVersion"/>.
    /// </summary>
    public static ProblemHttpResult? Refuses(HttpRequest request, IEdited row)
    {
        if (request.Headers.IfMatch.Count == 0)
            return ApiProblems.Unconditional();
        if (!EntityTagHeaderValue.TryParseStrictList(request.Headers.IfMatch, out var tags))
            return ApiProblems.Field("If-Match", "Expected the ETag as it came, quotes included, or *.");
        // A weak tag says that two answers are worth the same, not that they are the same version: it never opens an edit.
        return tags.Any(tag => tag.Tag == "*" || (!tag.IsWeak && tag.Tag == Of(row))) ? null : ApiProblems.Outdated();
    }

    private static bool Matches(Microsoft.Extensions.Primitives.StringValues header, IEdited row) =>
        EntityTagHeaderValue.TryParseList(header, out var tags) && tags.Any(tag => tag.Tag == "*" || tag.Tag == Of(row));
}
