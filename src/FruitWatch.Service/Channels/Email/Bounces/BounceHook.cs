using System.Security.Cryptography;
using System.Text;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web.Conduct;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Net.Http.Headers;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Where a mail server hands over what comes to the address of bounces, for those who would rather pipe than have a mailbox read.</summary>
internal static class BounceHook
{
    public const string Address = "/mail/bounces";

    /// <summary>Header field in which the server may say where the message came to.</summary>
    public const string Recipient = "X-Original-To";

    private const string Scheme = "Bearer ";

    /// <summary>For everybody, because the secret is the authority: there is no session, and so nothing that another page could make use of.</summary>
    public static void MapBounces(this IEndpointRouteBuilder app) => app.MapPost(Address, TakeAsync)
        .WithName("TakeBounce")
        .WithMetadata(new RequestSizeLimitAttribute(BounceIntake.LongestMessage))
        .RequireRateLimiting(RateLimits.Reports)
        .ForEverybody()
        .ExcludeFromDescription();

    private static async Task<IResult> TakeAsync(HttpContext context, MailOptions options, BounceIntake intake)
    {
        var request = context.Request;
        if (!options.Bounces.HasHook)
            return Results.NotFound();
        if (!IsKnown(request.Headers.Authorization.ToString(), options.Bounces.HookSecret!))
        {
            context.Response.Headers.WWWAuthenticate = "Bearer";
            return Results.StatusCode(StatusCodes.Status401Unauthorized);
        }

        if (!MediaTypeHeaderValue.TryParse(request.ContentType, out var type) || !type.MediaType.Equals("message/rfc822", StringComparison.OrdinalIgnoreCase))
            return Results.StatusCode(StatusCodes.Status415UnsupportedMediaType);
        try
        {
            // Whole before it is read: the reader of mails does not wait for the network.
            using var body = new MemoryStream();
            await request.Body.CopyToAsync(body, context.RequestAborted);
            body.Position = 0;
            using var message = await MimeMessage.LoadAsync(body, context.RequestAborted);
            var taken = await intake.TakeAsync(message, request.Headers[Recipient].FirstOrDefault(), context.RequestAborted);
            return Results.Text(Word(taken) + "\n");
        }
        catch (BadHttpRequestException refused)
        {
            return Results.StatusCode(refused.StatusCode);
        }
        catch (FormatException)
        {
            return Results.StatusCode(StatusCodes.Status400BadRequest);
        }
    }

    // Hashed first: equal lengths, so that the comparison takes equally long whatever was sent.
    private static bool IsKnown(string authorization, string secret) =>
        authorization.StartsWith(Scheme, StringComparison.OrdinalIgnoreCase)
        && CryptographicOperations.FixedTimeEquals(
            SHA256.HashData(Encoding.UTF8.GetBytes(authorization[Scheme.Length..].Trim())), SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    private static string Word(Taken taken) => taken switch
    {
        Taken.Failure => "filed",
        Taken.NoFailure => "nothing failed",
        Taken.Elsewhere => "not the address",
        Taken.NoMember => "no member's mail",
        Taken.Stopped => "unsubscribed",
        Taken.Foreign => "no mail of ours",
        _ => "no report",
    };
}
