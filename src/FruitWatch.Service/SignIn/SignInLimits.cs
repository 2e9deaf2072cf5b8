using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.RateLimiting;

namespace FruitWatch.Service.SignIn;

/// <summary>How often one place may try.</summary>
internal sealed class SignInLimits
{
    /// <summary>Forms from one place in a minute.</summary>
    public int PerMinute { get; set; } = 10;
}

/// <summary>
/// Holds whoever tries many accounts from one place (ASVS 5.0 2.4.1, 6.3.1). A device that signed in before counts for itself, so that a
/// stranger behind the same address does not hold it up. Looking at a page is not limited.
/// </summary>
internal sealed class SignInRate(SignInLimits limits) : IRateLimiterPolicy<string>
{
    public const string Policy = "sign-in";

    public Func<OnRejectedContext, CancellationToken, ValueTask>? OnRejected => (refused, _) =>
    {
        var response = refused.HttpContext.Response;
        response.StatusCode = StatusCodes.Status429TooManyRequests;
        var wait = refused.Lease.TryGetMetadata(MetadataName.RetryAfter, out var told) ? told : TimeSpan.FromMinutes(1);
        response.Headers.RetryAfter = ((int)Math.Ceiling(wait.TotalSeconds)).ToString(CultureInfo.InvariantCulture);
        return ValueTask.CompletedTask;
    };

    public RateLimitPartition<string> GetPartition(HttpContext httpContext)
    {
        if (!HttpMethods.IsPost(httpContext.Request.Method))
            return RateLimitPartition.GetNoLimiter("");
        var device = httpContext.RequestServices.GetRequiredService<Devices>().Nonce;
        return RateLimitPartition.GetFixedWindowLimiter(
            device is null ? "at " + Place(httpContext.Connection.RemoteIpAddress) : "on " + device,
            _ => new FixedWindowRateLimiterOptions { PermitLimit = limits.PerMinute, Window = TimeSpan.FromMinutes(1), QueueLimit = 0 });
    }

    /// <summary>An IPv6 host has a network of 64 bits to itself, and draws addresses from it as it likes (RFC 4291 section 2.5.1, RFC 8981).</summary>
    private static string Place(IPAddress? address)
    {
        if (address is null)
            return "unknown";
        if (address.IsIPv4MappedToIPv6)
            address = address.MapToIPv4();
        return address.AddressFamily == AddressFamily.InterNetworkV6 ? Convert.ToHexString(address.GetAddressBytes().AsSpan(0, 8)) : address.ToString();
    }
}
