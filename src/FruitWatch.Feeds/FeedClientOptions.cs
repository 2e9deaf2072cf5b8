using System.Net;
using System.Security.Cryptography.X509Certificates;

namespace FruitWatch.Feeds;

/// <summary>How feeds are fetched. The defaults suit a service that asks each feed a few times a day.</summary>
public sealed class FeedClientOptions
{
    /// <summary>
    /// Who asks, for the providers: the program's name and a way to reach its operator, for example
    /// "FruitWatch/1.0 (ops@example.org)". Several services refuse requests without one.
    /// </summary>
    public required string UserAgent { get; init; }

    /// <summary>
    /// Endpoints, as exact <c>host:port</c> (also for ports 80 and 443), that may be on the own network and may be asked without
    /// TLS: weather stations. The operator names them, never a user of the service. None by default.
    /// </summary>
    public IReadOnlySet<string> LocalStations { get; init; } = new HashSet<string>();

    /// <summary>Tries of one fetch, the first included. 1…5</summary>
    public int Attempts { get; init; } = 3;

    /// <summary>Before the first retry; doubled for each further one, with jitter.</summary>
    public TimeSpan RetryDelay { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>The least wait when a server says "at once", or names a time that has passed.</summary>
    public TimeSpan ShortestRetryAfter { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>A server's wish to wait longer than this ends the fetch; the wait is left to the caller's schedule.</summary>
    public TimeSpan LongestRetryAfter { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>Failures in a row after which a host is left alone.</summary>
    public int FailuresToRest { get; init; } = 6;

    /// <summary>How long it is left alone; afterwards one request tries it.</summary>
    public TimeSpan Rest { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>Until the connection stands.</summary>
    public TimeSpan ConnectTimeout { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Puts a tighter or looser deadline on every fetch than its description does; for tests.</summary>
    public TimeSpan? Deadline { get; init; }

    /// <summary>Hosts remembered at once; the one unused for longest is forgotten first.</summary>
    public int MostHosts { get; init; } = 200;

    /// <summary>Requests to one host that may be under way together. 1…20</summary>
    public int AtOnce { get; init; } = 2;

    /// <summary>Requests to one host in a second, once twice as many have gone at once. 1…20 [1/s]</summary>
    public int PerSecond { get; init; } = 5;

    /// <summary>Looks names up in place of the system; for tests.</summary>
    internal Func<string, CancellationToken, Task<IPAddress[]>>? Resolve { get; init; }

    /// <summary>Opens connections in place of the system, after the address was looked at; for tests.</summary>
    internal Func<IPAddress, int, CancellationToken, Task<Stream>>? Dial { get; init; }

    /// <summary>The only roots that certificates may come from, in place of the system's; for tests.</summary>
    internal X509Certificate2Collection? TrustedRoots { get; init; }
}
