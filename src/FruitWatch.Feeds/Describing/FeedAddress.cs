using System.Net;

namespace FruitWatch.Feeds.Describing;

/// <summary>The rules of a feed's address.</summary>
internal static class FeedAddress
{
    // RFC 6761, RFC 6762, RFC 8375, and the name ICANN has set aside for private use. A friendly word early on: what counts is
    // the address a name leads to when it is connected to.
    private static readonly string[] InnerNames = ["localhost", "local", "internal", "home.arpa"];

    public static void Check(DescriptionPlace request, RequestDescription read, IReadOnlySet<string> localStations)
    {
        if (request.Member("url") is not { IsClean: true } url)
            return;
        if (read.Url == RequestDescription.Upload)
        {
            if (read.Steps.Count > 0)
                request.Refuse("steps", "A feed of files has nothing to ask first.", "Remove the steps.");
            return;
        }
        if (read.CapturedUrl is null)
            CheckOne(url, read.Url, read.Captured, localStations, httpsOnly: false);
        CheckDates(url, read);
        CheckHost(request, read);
    }

    /// <summary>The rules of one address, of the feed or of a step.</summary>
    public static void CheckOne(
        DescriptionPlace url, string text, IReadOnlySet<string> captured, IReadOnlySet<string> localStations, bool httpsOnly)
    {
        Placeholders.Check(url, text, captured);
        if (Sample(text) is not { } uri)
        {
            url.Refuse("This is not a web address.", $"Write https://…, or {RequestDescription.Upload} for files handed in.");
            return;
        }
        if (!IsSchemeAllowed(uri, localStations) || (httpsOnly && uri.Scheme != Uri.UriSchemeHttps))
            url.Refuse(
                "The address does not use https.",
                "Write https://…; plain http is for stations on the own network that the operator has allowed by host and port.");
        else if (!IsLocalStation(uri, localStations) && IsInner(uri))
            url.Refuse(
                "The address is not on the open internet.",
                "A station on the own network is for the operator to allow, by host and port; its file can be handed in as well.");
        else if (!IsLocalStation(uri, localStations) && !uri.IsDefaultPort)
            url.Refuse("The address names a port of its own.", "Leave the port out, or have the operator allow it by host and port.");
        if (uri.UserInfo.Length > 0)
            url.Refuse("The address holds a user name or password.", "Describe it under secret, and give it when the feed is set up.");
        if (uri.Fragment.Length > 0)
            url.Refuse("The part behind # never reaches a server.", "Remove it.");
        // A placeholder in the host's name would let a site's data choose whom we ask.
        var authorityEnd = text.IndexOf('/', text.IndexOf("//", StringComparison.Ordinal) + 2);
        var brace = text.IndexOf('{', StringComparison.Ordinal);
        if (brace >= 0 && (authorityEnd < 0 || brace < authorityEnd))
            url.Refuse("The host's name holds a placeholder.", "Write the host out; use placeholders in the path and the query only.");
    }

    public static bool IsSchemeAllowed(Uri uri, IReadOnlySet<string> localStations) =>
        uri.Scheme == Uri.UriSchemeHttps || (uri.Scheme == Uri.UriSchemeHttp && IsLocalStation(uri, localStations));

    /// <summary>The operator allows exactly this host and port.</summary>
    public static bool IsLocalStation(Uri uri, IReadOnlySet<string> localStations) =>
        GuardedConnector.IsAllowed(localStations, uri.IdnHost, uri.Port);

    /// <summary>The host as it is written in an address with placeholders, or null where it is not to be seen there.</summary>
    public static string? HostOf(string url) => Sample(url)?.IdnHost;

    private static Uri? Sample(string text) =>
        Uri.TryCreate(Placeholders.Fill(text, _ => "0"), UriKind.Absolute, out var uri) && uri.Host.Length > 0
        && (uri.Scheme == Uri.UriSchemeHttps || uri.Scheme == Uri.UriSchemeHttp)
            ? uri
            : null;

    private static bool IsInner(Uri uri)
    {
        var host = uri.IdnHost.TrimEnd('.');
        if (IPAddress.TryParse(host.Trim('[', ']'), out var literal))
            return !PublicAddresses.IsPublic(literal);
        return !host.Contains('.', StringComparison.Ordinal)
            || InnerNames.Any(name => host.EndsWith("." + name, StringComparison.OrdinalIgnoreCase));
    }

    private static void CheckDates(DescriptionPlace url, RequestDescription read)
    {
        if (read.Back is null && (read.Uses("start") || read.Uses("back")))
            url.Refuse("The address asks for {start} or {back}, but nothing says how many days back.", "Add dates.back to the request.");
        if (read.Ahead is null && (read.Uses("end") || read.Uses("ahead")))
            url.Refuse("The address asks for {end} or {ahead}, but nothing says how many days ahead.", "Add dates.ahead to the request.");
    }

    private static void CheckHost(DescriptionPlace request, RequestDescription read)
    {
        if (read.MustStayOnHost is not { } host || request.Member("mustStayOnHost") is not { IsClean: true } place)
            return;
        if (Uri.CheckHostName(host) != UriHostNameType.Dns)
            place.Refuse("This is not the name of a host.", "Write it as in an address, without https:// and without a port.");
        else if (HostOf(read.Url) is { } written && !string.Equals(written, host, StringComparison.OrdinalIgnoreCase))
            place.Refuse("The address in url is on another host.", "Correct one of them, or remove this member.");
    }
}
