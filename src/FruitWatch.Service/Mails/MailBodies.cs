using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Mails;

/// <summary>The HTML of a mail by itself, for the frame in the page that shows it: its styles stay in there.</summary>
internal static class MailBodies
{
    public static void MapMailBodies(this IEndpointRouteBuilder app) =>
        app.MapMethods("/mail/{id:long}/html", ["GET", "HEAD"], async (long id, FruitWatchStore store, HttpContext context) =>
        {
            var html = await store.Outbox.AsNoTracking().Where(mail => mail.Id == id).Select(mail => mail.HtmlBody)
                .SingleOrDefaultAsync(context.RequestAborted);
            if (html is null)
                return Results.NotFound();
            context.Response.Headers[HeaderNames.ContentSecurityPolicy] = SecurityHeaders.MailPolicy;
            return Results.Content(MailSecrets.Hide(html), "text/html; charset=utf-8");
        }).Needs(Right.ReadMails).ExcludeFromDescription();
}
