using System.Globalization;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>
/// Addresses and header fields that are too long are refused here, with words. The server itself would only hang up on them; its own
/// limits lie above these, for what is beyond answering.
/// </summary>
internal sealed class AddressLimits(RequestDelegate next)
{
    /// <summary>Longest address, question mark and all. RFC 9110 §4.1 asks for 8000 at least.</summary>
    public const int LongestAddress = 8000;

    /// <summary>All header fields together.</summary>
    public const int LargestHeaders = 32 * 1024;

    /// <summary>Header fields.</summary>
    public const int MostHeaders = 100;

    public static void Configure(KestrelServerOptions server)
    {
        server.Limits.MaxRequestLineSize = 4 * LongestAddress;
        server.Limits.MaxRequestHeadersTotalSize = 2 * LargestHeaders;
        server.Limits.MaxRequestHeaderCount = 2 * MostHeaders;
    }

    public Task InvokeAsync(HttpContext context)
    {
        var target = context.Features.Get<IHttpRequestFeature>()?.RawTarget ?? "";
        var headers = context.Request.Headers;
        var size = headers.Sum(header => header.Key.Length + header.Value.Sum(value => value?.Length ?? 0) + 4);
        var refusal = target.Length > LongestAddress
            ? ApiProblems.AddressTooLong(LongestAddress)
            : size > LargestHeaders || headers.Count > MostHeaders
                ? ApiProblems.HeadersTooLarge(string.Create(CultureInfo.InvariantCulture, $"{MostHeaders} fields and {LargestHeaders} bytes"))
                : null;
        if (refusal is null)
            return next(context);
        if (ApiProblems.Concerns(context.Request))
            return refusal.ExecuteAsync(context);
        context.Response.StatusCode = refusal.StatusCode;
        return Task.CompletedTask;
    }
}
