using System.Net;

namespace FruitWatch.Feeds.Fetching;

/// <summary>The connection side of the client: nothing is left to defaults that suit a browser.</summary>
internal static class FeedHandler
{
    public static SocketsHttpHandler Create(FeedClientOptions options) => new()
    {
        // A redirect would be followed below the pipeline, to any host, with our headers.
        AllowAutoRedirect = false,
        UseProxy = false,
        UseCookies = false,
        AutomaticDecompression = DecompressionMethods.GZip | DecompressionMethods.Deflate | DecompressionMethods.Brotli,
        ConnectTimeout = options.ConnectTimeout,
        PooledConnectionLifetime = TimeSpan.FromMinutes(5),
        MaxResponseHeadersLength = 32,
        // The one place where the address connected to can be looked at.
        ConnectCallback = new GuardedConnector(options.LocalStations).ConnectAsync,
    };
}
