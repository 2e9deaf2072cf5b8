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

    /// <summary>Whether an edit is meant for another version than the one that is kept.</summary>
    public static bool Outdated(HttpRequest request, IEdited row) =>
        request.Headers.IfMatch.Count > 0 && !Matches(request.Headers.IfMatch, row);

    private static bool Matches(Microsoft.Extensions.Primitives.StringValues header, IEdited row) =>
        EntityTagHeaderValue.TryParseList(header, out var tags) && tags.Any(tag => tag.Tag == "*" || tag.Tag == Of(row));
}
