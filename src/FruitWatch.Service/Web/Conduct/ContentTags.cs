using System.Buffers.Text;
using System.Security.Cryptography;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>
/// Gives lists and computed answers an ETag of their content, and spares them a reader who has it. They are made all the same: what
/// is spared is the way. Rows with a version carry that one, see <see cref="ETags"/>.
/// </summary>
internal sealed class ContentTags(RequestDelegate next)
{
    public async Task InvokeAsync(HttpContext context)
    {
        if (!HttpMethods.IsGet(context.Request.Method) || context.GetEndpoint() is not { } endpoint || endpoint.Metadata.GetMetadata<StreamedMetadata>() is not null)
        {
            await next(context);
            return;
        }

        using var answer = CapturedAnswer.Begin(context);
        await next(context);
        var body = await answer.EndAsync();
        var headers = context.Response.Headers;
        if (context.Response.StatusCode == StatusCodes.Status200OK && headers.ETag.Count == 0)
        {
            headers.ETag = $"\"{Base64Url.EncodeToString(SHA256.HashData(body.Span).AsSpan(0, 16))}\"";
            if (headers.CacheControl.Count == 0)
                headers.CacheControl = "private, no-cache";
            if (Has(context.Request, headers.ETag!))
            {
                context.Response.StatusCode = StatusCodes.Status304NotModified;
                headers.ContentType = default;
                headers.ContentLength = null;
                return;
            }
        }

        if (body.Length > 0)
            await context.Response.Body.WriteAsync(body, context.RequestAborted);
    }

    // RFC 9110 §13.1.2 compares weakly.
    private static bool Has(HttpRequest request, string tag) =>
        EntityTagHeaderValue.TryParseList(request.Headers.IfNoneMatch, out var tags) && tags.Any(known => known.Tag == "*" || known.Tag == tag);
}

/// <summary>Says that an answer is sent as it is made, because it is too large to be held.</summary>
internal sealed class StreamedMetadata;
