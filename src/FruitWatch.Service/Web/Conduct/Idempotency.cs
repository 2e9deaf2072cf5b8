using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Microsoft.Net.Http.Headers;
using NodaTime;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>
/// A POST with an Idempotency-Key is done once, however often it is sent (draft-ietf-httpapi-idempotency-key-header-07). The key is
/// taken first; then the deed and its answer are committed together, so that a service that dies in between leaves neither. What was
/// refused or failed did nothing, and leaves the key free.
/// </summary>
internal sealed class Idempotency(RequestDelegate next, StoreFactory stores, IClock clock)
{
    public const string HeaderName = "Idempotency-Key";

    /// <summary>Says of an answer that it was given before.</summary>
    public const string ReplayedHeader = "Idempotency-Replayed";

    public const int LongestKey = 200;

    /// <summary>How long an answer is kept.</summary>
    public static readonly Duration Kept = Duration.FromHours(24);

    /// <summary>A request that has not ended by then has died with its service.</summary>
    public static readonly Duration Lease = Duration.FromMinutes(5);

    private static readonly string[] s_keptHeaders = [HeaderNames.ContentType, HeaderNames.Location, HeaderNames.ETag];

    public async Task InvokeAsync(HttpContext context, Visitor visitor)
    {
        var sent = context.Request.Headers[HeaderName];
        if (!HttpMethods.IsPost(context.Request.Method) || sent.Count == 0 || visitor.Cooperative is not { } cooperative || context.GetEndpoint() is not RouteEndpoint endpoint)
        {
            await next(context);
            return;
        }

        if (KeyOf(sent) is not { } key)
        {
            await ApiProblems.Field(HeaderName, $"Expected one key of 1 to {LongestKey} visible ASCII characters, such as \"8e03978e-40d5-43dd-bc93-6894a57f9324\".").ExecuteAsync(context);
            return;
        }

        if (await FingerprintAsync(context, endpoint) is not { } fingerprint)
        {
            await ApiProblems.TooLarge(BodyLimits.MostBytes).ExecuteAsync(context);
            return;
        }

        var request = new IdempotentRequest
        {
            Caller = visitor.Via!,
            Key = key,
            CooperativeId = cooperative.Id,
            Fingerprint = fingerprint,
            StartedAt = clock.GetCurrentInstant(),
        };
        if (await ReserveAsync(request, context))
            await DoAsync(request, context, endpoint);
    }

    /// <summary>The key without the quotes that the draft asks for; null where it cannot be one.</summary>
    public static string? KeyOf(Microsoft.Extensions.Primitives.StringValues sent)
    {
        if (sent is not [{ } text])
            return null;
        if (text is ['"', .., '"'])
            text = text[1..^1];
        return text.Length is > 0 and <= LongestKey && text.All(c => c is > ' ' and < '\u007f' and not ('"' or '\\' or ',')) ? text : null;
    }

    // Whether it is this one's to do. Otherwise the answer has been written.
    private async Task<bool> ReserveAsync(IdempotentRequest request, HttpContext context)
    {
        var stop = context.RequestAborted;
        await using var store = stores.CreateDbContext();
        await store.ForgetRequestsAsync(request, Kept, stop);
        if (await store.AddIfNewAsync(request, stop))
            return true;
        var known = await store.IdempotentRequests.AsNoTracking().SingleOrDefaultAsync(row => row.Caller == request.Caller && row.Key == request.Key, stop);
        if (known is { } && known.Fingerprint != request.Fingerprint)
            await ApiProblems.OtherRequest().ExecuteAsync(context);
        else if (known?.Status is { } status)
            await ReplayAsync(context, known, status);
        else if (known is not null && known.StartedAt + Lease < request.StartedAt && await store.TakeOverAsync(known, request.StartedAt, stop))
            return true;
        else
            await ApiProblems.StillDone(context).ExecuteAsync(context);
        return false;
    }

    private async Task DoAsync(IdempotentRequest request, HttpContext context, RouteEndpoint endpoint)
    {
        var ended = false;
        using var answer = CapturedAnswer.Begin(context);
        try
        {
            var within = context.RequestServices.GetRequiredService<FruitWatchStore>();
            await using var whole = endpoint.Metadata.GetMetadata<OutsideTransactionMetadata>() is null
                ? await within.Database.BeginTransactionAsync(context.RequestAborted)
                : null;
            await next(context);
            var body = await answer.EndAsync();
            var failed = context.Response.StatusCode >= StatusCodes.Status500InternalServerError;
            // From here on nothing is given up for a client that has gone: it comes back for this answer.
            ended = !failed && await EndAsync(within, whole, request, context.Response, endpoint, body);
            if (!ended && !failed)
            {
                context.Response.Clear();
                await ApiProblems.StillDone(context).ExecuteAsync(context);
            }
            else if (body.Length > 0)
            {
                await context.Response.Body.WriteAsync(body, context.RequestAborted);
            }
        }
        finally
        {
            if (!ended)
            {
                await using var store = stores.CreateDbContext();
                await store.ForgetAsync(request, CancellationToken.None);
            }
        }
    }

    private static async Task<bool> EndAsync(
        FruitWatchStore store, IDbContextTransaction? whole, IdempotentRequest request, HttpResponse response, RouteEndpoint endpoint, ReadOnlyMemory<byte> body)
    {
        var headers = s_keptHeaders.Where(response.Headers.ContainsKey).ToDictionary(name => name, name => response.Headers[name].ToString());
        var ended = response.StatusCode < 400
            ? await store.KeepAnswerAsync(request, response.StatusCode, JsonSerializer.Serialize(headers), WithoutSecrets(body, endpoint), CancellationToken.None)
            : await store.ForgetAsync(request, CancellationToken.None);
        if (ended && whole is not null)
            await whole.CommitAsync(CancellationToken.None);
        // Outside a transaction what is done is done.
        return ended || whole is null;
    }

    private static async Task ReplayAsync(HttpContext context, IdempotentRequest known, int status)
    {
        context.Response.StatusCode = status;
        foreach (var (name, value) in JsonSerializer.Deserialize<Dictionary<string, string>>(known.Headers!)!)
            context.Response.Headers[name] = value;
        context.Response.Headers[ReplayedHeader] = "true";
        if (known.Body is { Length: > 0 } body)
            await context.Response.Body.WriteAsync(Encoding.UTF8.GetBytes(body), context.RequestAborted);
    }

    private static string WithoutSecrets(ReadOnlyMemory<byte> body, RouteEndpoint endpoint)
    {
        if (endpoint.Metadata.GetMetadata<ShownOnceMetadata>() is not { } secret || body.Length == 0)
            return Encoding.UTF8.GetString(body.Span);
        var json = JsonNode.Parse(body.Span)!.AsObject();
        foreach (var field in secret.Fields.Where(json.ContainsKey))
            json[field] = null;
        return json.ToJsonString(ApiJson.Plain);
    }

    /// <summary>What makes two requests the same; null where the body is larger than any that is taken.</summary>
    private static async Task<string?> FingerprintAsync(HttpContext context, RouteEndpoint endpoint)
    {
        var request = context.Request;
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes($"{request.Method} {request.Path}{request.QueryString}\n{request.ContentType}\n"));
        // An operation that takes more says so; what it takes is set down on disk while it is read.
        var most = endpoint.Metadata.GetMetadata<IRequestSizeLimitMetadata>() is null ? BodyLimits.MostBytes : long.MaxValue;
        request.EnableBuffering(BodyLimits.MostBytes);
        var buffer = new byte[16 * 1024];
        long total = 0;
        int read;
        while ((read = await request.Body.ReadAsync(buffer, context.RequestAborted)) > 0)
        {
            if ((total += read) > most)
                return null;
            hash.AppendData(buffer.AsSpan(0, read));
        }

        request.Body.Position = 0;
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
