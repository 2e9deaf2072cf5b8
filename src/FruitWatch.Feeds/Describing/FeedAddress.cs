namespace FruitWatch.Feeds.Describing;

/// <summary>The rules of a feed's address.</summary>
internal static class FeedAddress
{
    public static void Check(DescriptionPlace request, RequestDescription read, IReadOnlySet<string> localStations)
    {
        if (request.Member("url") is not { IsClean: true } url || read.Url == RequestDescription.Upload)
            return;
        Placeholders.Check(url, read.Url);
        var sample = Placeholders.Fill(read.Url, _ => "0");
        if (!Uri.TryCreate(sample, UriKind.Absolute, out var uri) || uri.Host.Length == 0
            || (uri.Scheme != Uri.UriSchemeHttps && uri.Scheme != Uri.UriSchemeHttp))
        {
            url.Refuse("This is not a web address.", $"Write https://…, or {RequestDescription.Upload} for files handed in.");
            return;
        }
        if (!IsSchemeAllowed(uri, localStations))
            url.Refuse(
                "The address does not use https.",
                "Write https://…; plain http is for stations on the own network that the operator has allowed by host and port.");
        if (uri.UserInfo.Length > 0)
            url.Refuse("The address holds a user name or password.", "Describe it under secret, and give it when the feed is set up.");
        if (uri.Fragment.Length > 0)
            url.Refuse("The part behind # never reaches a server.", "Remove it.");
        // A placeholder in the host's name would let a site's data choose whom we ask.
        var authorityEnd = read.Url.IndexOf('/', read.Url.IndexOf("//", StringComparison.Ordinal) + 2);
        var brace = read.Url.IndexOf('{', StringComparison.Ordinal);
        if (brace >= 0 && (authorityEnd < 0 || brace < authorityEnd))
            url.Refuse("The host's name holds a placeholder.", "Write the host out; use placeholders in the path and the query only.");
        CheckDates(url, read);
    }

    public static bool IsSchemeAllowed(Uri uri, IReadOnlySet<string> localStations) =>
        uri.Scheme == Uri.UriSchemeHttps
        || (uri.Scheme == Uri.UriSchemeHttp && IsLocalStation(uri, localStations));

    /// <summary>The operator allows exactly this host and port.</summary>
    public static bool IsLocalStation(Uri uri, IReadOnlySet<string> localStations) =>
        GuardedConnector.IsAllowed(localStations, uri.IdnHost, uri.Port);

    private static void CheckDates(DescriptionPlace url, RequestDescription read)
    {
        if (read.Back is null && (read.Uses("start") || read.Uses("back")))
            url.Refuse("The address asks for {start} or {back}, but nothing says how many days back.", "Add dates.back to the request.");
        if (read.Ahead is null && (read.Uses("end") || read.Uses("ahead")))
            url.Refuse("The address asks for {end} or {ahead}, but nothing says how many days ahead.", "Add dates.ahead to the request.");
    }
}
