using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>
/// How often: requests to the API by token, unknown callers by address, and deeds that send mails by person. Counted on this server.
/// What is left is told with every answer of the API (draft-ietf-httpapi-ratelimit-headers-10).
/// </summary>
internal static class RateLimits
{
    /// <summary>
    /// For operations and pages that make a mail go out: <c>.RequireRateLimiting(RateLimits.Mails)</c> or
    /// <c>[EnableRateLimiting(RateLimits.Mails)]</c>. Looking at such a page is free.
    /// </summary>
    public const string Mails = "mails";

    /// <summary>Mails that one person may cause in an hour.</summary>
    public const int MailsPerHour = 20;

    /// <summary>
    /// For pages that open by a secret in their address: <c>[EnableRateLimiting(RateLimits.Guesses)]</c>. Looking counts as well as
    /// pressing the button, by where it comes from.
    /// </summary>
    public const string Guesses = "guesses";

    /// <summary>Secrets that may be tried in a minute from one address.</summary>
    public const int GuessesPerMinute = 10;

    /// <summary>
    /// For pages that open by a signed link of a mail: <c>[EnableRateLimiting(RateLimits.SignedLinks)]</c>. Nobody guesses those, and
    /// programs look at every link of a mail before its reader does; this only keeps one place from keeping the store busy.
    /// </summary>
    public const string SignedLinks = "signed-links";

    /// <summary>Signed links that may be opened, looking and pressing together, in a minute from one address.</summary>
    public const int SignedLinksPerMinute = 120;

    /// <summary>For mail servers that hand reports over: <c>.RequireRateLimiting(RateLimits.Reports)</c>.</summary>
    public const string Reports = "reports";

    /// <summary>Reports that may be handed over in a minute from one address.</summary>
    public const int ReportsPerMinute = 120;

    private const string Api = "api";
    private static readonly TimeSpan s_minute = TimeSpan.FromMinutes(1);
    private static readonly TimeSpan s_hour = TimeSpan.FromHours(1);

    public static void AddRateLimits(this IServiceCollection services)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.AddRateLimiter(options => options.RejectionStatusCode = StatusCodes.Status429TooManyRequests);
        services.AddOptions<RateLimiterOptions>().Configure<ServiceOptions, TimeProvider>((options, service, time) =>
        {
            var perMinute = service.ApiPerMinute;
            options.GlobalLimiter = new ToldLimiter(
                PartitionedRateLimiter.Create<HttpContext, string>(context => ApiProblems.Concerns(context.Request)
                    ? RateLimitPartition.Get(CallerOf(context), _ => new WindowLimiter(perMinute, s_minute, time))
                    : RateLimitPartition.GetNoLimiter("")),
                string.Create(CultureInfo.InvariantCulture, $"\"{Api}\";q={perMinute};w={(int)s_minute.TotalSeconds}"));
            options.AddPolicy(Mails, context => HttpMethods.IsGet(context.Request.Method)
                ? RateLimitPartition.GetNoLimiter("")
                : RateLimitPartition.Get(SenderOf(context), _ => new WindowLimiter(MailsPerHour, s_hour, time)));
            options.AddPolicy(Guesses, context => RateLimitPartition.Get(AddressOf(context), _ => new WindowLimiter(GuessesPerMinute, s_minute, time)));
            options.AddPolicy(SignedLinks, context => RateLimitPartition.Get(AddressOf(context), _ => new WindowLimiter(SignedLinksPerMinute, s_minute, time)));
            options.AddPolicy(Reports, context => RateLimitPartition.Get(AddressOf(context), _ => new WindowLimiter(ReportsPerMinute, s_minute, time)));
            options.OnRejected = (rejected, _) => RefuseAsync(rejected);
        });
    }

    private static async ValueTask RefuseAsync(OnRejectedContext rejected)
    {
        var context = rejected.HttpContext;
        var wait = rejected.Lease.TryGetMetadata(MetadataName.RetryAfter, out var until) ? until : s_minute;
        var refusal = ApiProblems.TooOften(context, "There were more requests than are let through. Wait as long as Retry-After says.", wait);
        // Of a page: the page of the refusal is shown by whoever looks at the status.
        if (ApiProblems.Concerns(context.Request))
            await refusal.ExecuteAsync(context);
    }

    /// <summary>The token, where it is good; else where the request comes from, so that guessing tokens is counted together.</summary>
    private static string CallerOf(HttpContext context) =>
        context.RequestServices.GetRequiredService<Visitor>().Via ?? AddressOf(context);

    private static string SenderOf(HttpContext context)
    {
        var visitor = context.RequestServices.GetRequiredService<Visitor>();
        return visitor.Person is { } person ? string.Create(CultureInfo.InvariantCulture, $"person:{person.Id}")
            : visitor.AccountId is { } account ? string.Create(CultureInfo.InvariantCulture, $"account:{account}")
            : AddressOf(context);
    }

    /// <summary>Where a request comes from, as it is counted: a household or a server has a whole /64 of IPv6 addresses; each alone would be no limit at all.</summary>
    public static string AddressOf(HttpContext context)
    {
        var address = context.Connection.RemoteIpAddress ?? IPAddress.None;
        if (address.IsIPv4MappedToIPv6)
            address = address.MapToIPv4();
        return address.AddressFamily == AddressFamily.InterNetworkV6
            ? "address:" + Convert.ToHexString(address.GetAddressBytes()[..8])
            : $"address:{address}";
    }

    /// <summary>Tells with the answer what is left.</summary>
    private sealed class ToldLimiter(PartitionedRateLimiter<HttpContext> inner, string policy) : PartitionedRateLimiter<HttpContext>
    {
        public override RateLimiterStatistics? GetStatistics(HttpContext resource) => inner.GetStatistics(resource);

        protected override RateLimitLease AttemptAcquireCore(HttpContext resource, int permitCount) =>
            Told(resource, inner.AttemptAcquire(resource, permitCount));

        protected override async ValueTask<RateLimitLease> AcquireAsyncCore(HttpContext resource, int permitCount, CancellationToken cancellationToken) =>
            Told(resource, await inner.AcquireAsync(resource, permitCount, cancellationToken));

        protected override void Dispose(bool disposing)
        {
            if (disposing)
                inner.Dispose();
            base.Dispose(disposing);
        }

        private RateLimitLease Told(HttpContext context, RateLimitLease lease)
        {
            if (lease.TryGetMetadata(WindowLimiter.Left, out var left) && lease.TryGetMetadata(WindowLimiter.Reset, out var reset))
            {
                context.Response.Headers["RateLimit-Policy"] = policy;
                context.Response.Headers["RateLimit"] =
                    string.Create(CultureInfo.InvariantCulture, $"\"{Api}\";r={left};t={(int)Math.Ceiling(reset.TotalSeconds)}");
            }

            return lease;
        }
    }
}
