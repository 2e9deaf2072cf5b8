using Microsoft.AspNetCore.Http.Features;

namespace FruitWatch.Service.Web;

/// <summary>Answers HEAD wherever GET is answered, with the same headers and no body (RFC 9110 §9.3.2).</summary>
internal sealed class HeadRequests(RequestDelegate next)
{
    public async Task InvokeAsync(HttpContext context)
    {
        if (!HttpMethods.IsHead(context.Request.Method))
        {
            await next(context);
            return;
        }

        var body = context.Features.Get<IHttpResponseBodyFeature>();
        context.Request.Method = HttpMethods.Get;
        context.Features.Set<IHttpResponseBodyFeature>(new StreamResponseBodyFeature(Stream.Null));
        try
        {
            await next(context);
        }
        finally
        {
            context.Request.Method = HttpMethods.Head;
            context.Features.Set(body);
        }
    }
}
