using System.Net;
using System.Net.Security;
using System.Security.Cryptography.X509Certificates;

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
        // A trace of ours is nobody else's business.
        ActivityHeadersPropagator = null,
        AutomaticDecompression = DecompressionMethods.GZip | DecompressionMethods.Deflate | DecompressionMethods.Brotli,
        ConnectTimeout = options.ConnectTimeout,
        PooledConnectionLifetime = TimeSpan.FromMinutes(5),
        MaxResponseHeadersLength = 32,
        // The one place where the address connected to can be looked at.
        ConnectCallback = new GuardedConnector(options.LocalStations, options.Resolve, null, options.Dial).ConnectAsync,
        SslOptions = new SslClientAuthenticationOptions
        {
            RemoteCertificateValidationCallback = (sender, certificate, chain, errors) =>
                UntrustedServerException.Check((sender as SslStream)?.TargetHostName ?? "it", certificate, chain, errors),
            CertificateChainPolicy = options.TrustedRoots is { } roots ? TrustOnly(roots) : null,
        },
    };

    private static X509ChainPolicy TrustOnly(X509Certificate2Collection roots)
    {
        var policy = new X509ChainPolicy { TrustMode = X509ChainTrustMode.CustomRootTrust, RevocationMode = X509RevocationMode.NoCheck };
        policy.CustomTrustStore.AddRange(roots);
        return policy;
    }
}
