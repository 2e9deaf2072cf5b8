using System.Diagnostics;
using System.Net;
using FruitWatch.Service.Text;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Web;

/// <summary>
/// The answer when something broke that should not: no text of the fault, but a number under which the log tells it. Written by
/// hand, so that it does not need what may be broken.
/// </summary>
internal static class Failures
{
    public static async Task AnswerAsync(HttpContext context)
    {
        var trace = Activity.Current?.Id ?? context.TraceIdentifier;
        SecurityHeaders.Put(context);
        context.Response.Headers[HeaderNames.CacheControl] = "no-store";
        if (ApiProblems.Concerns(context.Request))
        {
            // Not a fault of the service: what was sent is no request, or broke off.
            if (context.Features.Get<IExceptionHandlerFeature>()?.Error is BadHttpRequestException broken)
            {
                await ApiProblems.Broken(broken.StatusCode).ExecuteAsync(context);
                return;
            }

            await ApiProblems.Failed(trace).ExecuteAsync(context);
            return;
        }

        var words = Words.For(Languages.Of(context.Request));
        context.Response.ContentType = "text/html; charset=utf-8";
        await context.Response.WriteAsync($"""
            <!doctype html>
            <html lang="{words.Language}">
            <head>
              <meta charset="utf-8"><meta name="viewport" content="width=device-width">
              <title>{WebUtility.HtmlEncode(words.BrokenTitle)} · FruitWatch</title>
              <link rel="stylesheet" href="/site.css">
            </head>
            <body><main class="container">
              <h1>{WebUtility.HtmlEncode(words.BrokenTitle)}</h1>
              <p>{WebUtility.HtmlEncode(words.BrokenAdvice)}</p>
              <p><code>{WebUtility.HtmlEncode(trace)}</code></p>
              <p><a href="/">{WebUtility.HtmlEncode(words.ToToday)}</a></p>
            </main></body>
            </html>
            """);
    }
}
