using System.Globalization;
using FruitWatch.Store.Entities;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Operating;

/// <summary>Settings of the service. Bound from the configuration section <c>FruitWatch</c>; see docs/operating.md.</summary>
internal sealed class ServiceOptions
{
    public const string Section = "FruitWatch";

    private static readonly string[] s_feedFileEndings = [".csv", ".json"];

    /// <summary>Folder of the store, uploaded weather files and mails written as files.</summary>
    public string DataFolder { get; set; } = "data";

    /// <summary>Address at which people reach the pages; links in mails begin with it.</summary>
    public Uri BaseUrl { get; set; } = new("http://localhost:5080");

    /// <summary>
    /// What stands behind the @ of Message-IDs: the host of <see cref="BaseUrl"/> in the letters that mail knows, where it has others
    /// (RFC 5891 section 4.4; RFC 5322 section 3.6.4).
    /// </summary>
    internal string MessageDomain => BaseUrl.HostNameType == UriHostNameType.Dns ? BaseUrl.IdnHost : BaseUrl.Host;

    /// <summary>What browsers call the service (RFC 6454 section 6.2): scheme, host in ASCII, and the port where it is not the usual one.</summary>
    internal string Origin => $"{BaseUrl.Scheme}://{MessageDomain}{(BaseUrl.IsDefaultPort ? "" : FormattableString.Invariant($":{BaseUrl.Port}"))}";

    /// <summary>People reach it over TLS, here or at a proxy before it.</summary>
    internal bool BehindTls => BaseUrl.Scheme == Uri.UriSchemeHttps;

    /// <summary>Whom a weather service can write to; sent with every request for weather.</summary>
    public string Contact { get; set; } = "operator@localhost";

    /// <summary>Requests that a token may send to the web API in a minute; as many from an address without a good one.</summary>
    public int ApiPerMinute { get; set; } = 60;

    /// <summary>Whether the service looks for due work by itself; tests and the demo step it by hand.</summary>
    public bool RunJobs { get; set; } = true;

    /// <summary>The least time between two requests to a feed that answers; a description may ask for more.</summary>
    /// <remarks>ISO 8601, hours and minutes: <c>PT3H</c>.</remarks>
    public string WeatherEvery { get; set; } = "PT3H";

    internal Duration LeastBetweenRequests =>
        PeriodPattern.NormalizingIso.Parse(WeatherEvery) is { Success: true, Value: { HasDateComponent: false } span } && span.ToDuration() > Duration.Zero
            ? span.ToDuration()
            : throw new VerbException($"FruitWatch:WeatherEvery is '{WeatherEvery}'. Expected a length of time such as PT3H.");

    /// <summary>
    /// Endpoints, as exact <c>host:port</c>, that feeds may ask on the own network and without encryption: weather stations.
    /// </summary>
    public IReadOnlyList<string> LocalStations { get; set; } = [];

    /// <summary>
    /// Addresses, or networks such as <c>10.0.0.0/8</c>, of the proxies before the service. Only what they say of who came to them is believed: from where,
    /// and whether over TLS.
    /// </summary>
    public IReadOnlyList<string> Proxies { get; set; } = [];

    internal IReadOnlySet<string> LocalStationSet => LocalStations.ToHashSet(StringComparer.OrdinalIgnoreCase);

    /// <summary>File (PKCS #12) of a certificate with which the service's keys are encrypted in the store; null for none.</summary>
    public string? KeyCertificate { get; set; }

    /// <summary>Its password. Give it in the environment, as <c>FruitWatch__KeyCertificatePassword</c>.</summary>
    public string? KeyCertificatePassword { get; set; }

    /// <summary>Folder in which versions without accounts kept the service's keys.</summary>
    internal string KeyFolder => Path.Combine(DataFolder, "keys");

    /// <summary>
    /// Endpoints, as exact <c>host:port</c>, that webhooks may be sent to on the own network and without encryption.
    /// </summary>
    public IReadOnlyList<string> LocalReceivers { get; set; } = [];

    internal IReadOnlySet<string> LocalReceiverSet => LocalReceivers.ToHashSet(StringComparer.OrdinalIgnoreCase);

    /// <summary>Folder of weather files that users of a cooperative handed in: a feed's key is its own within the cooperative only.</summary>
    public string FeedFolder(long cooperativeId) => Path.Combine(DataFolder, "feeds", cooperativeId.ToString(CultureInfo.InvariantCulture));

    /// <summary>The file handed in for a feed: named by the feed's key, with the ending of what it holds.</summary>
    public string FeedFile(Feed feed) =>
        s_feedFileEndings.Select(ending => Path.Combine(FeedFolder(feed.CooperativeId), feed.Key + ending)).FirstOrDefault(File.Exists)
        ?? Path.Combine(FeedFolder(feed.CooperativeId), feed.Key + ".csv");

    /// <summary>Folder of mails written as files where no mail server is configured.</summary>
    public string MailFolder => Path.Combine(DataFolder, "mail");
}
