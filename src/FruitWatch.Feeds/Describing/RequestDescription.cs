using System.Net.Http.Headers;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Describing;

/// <summary>How a feed is asked.</summary>
internal sealed record RequestDescription
{
    /// <summary>In place of an address: the caller hands in a file.</summary>
    public const string Upload = "file:{upload}";

    // Set by the client itself, or a way to smuggle one request into another.
    private static readonly string[] HeadersNotAllowed =
        ["host", "connection", "content-length", "transfer-encoding", "cookie", "accept-encoding", "te", "upgrade", "expect",
         "proxy-authorization", "if-modified-since", "if-none-match"];

    public string Url { get; private init; } = "";

    /// <summary>What to ask first.</summary>
    public IReadOnlyList<StepDescription> Steps { get; private init; } = [];

    /// <summary>The one host that captured addresses and redirects may lead to.</summary>
    public string? MustStayOnHost { get; private init; }

    public IReadOnlyList<KeyValuePair<string, string>> Headers { get; private init; } = [];

    public int Decimals { get; private init; } = 4;

    public bool Truncate { get; private init; }

    public bool TrimZeros { get; private init; }

    public LocalDatePattern DatePattern { get; private init; } = LocalDatePattern.Iso;

    /// <summary>Days asked for before today. [d]</summary>
    public int? Back { get; private init; }

    /// <summary>Days asked for from today on. [d]</summary>
    public int? Ahead { get; private init; }

    /// <summary>The key goes in as the user name of HTTP Basic authentication.</summary>
    public bool KeyIsBasicUser { get; private init; }

    public IReadOnlyList<string> MediaTypes { get; private init; } = [];

    public bool Gzip { get; private init; }

    /// <summary>For the whole request with its retries, connection to last byte.</summary>
    public Duration Deadline { get; private init; }

    public int MaxBytes { get; private init; }

    /// <summary>The names that steps give a value.</summary>
    public IReadOnlySet<string> Captured => Steps.SelectMany(step => step.Captures).Select(capture => capture.Key).ToHashSet();

    /// <summary>The capture that is the whole address, where it is one.</summary>
    public string? CapturedUrl => Placeholders.Whole(Url) is { } name && Captured.Contains(name) ? name : null;

    /// <summary>The step that finds the whole address.</summary>
    public StepDescription? CapturingStep => Steps.FirstOrDefault(step => step.Captures.Any(capture => capture.Key == CapturedUrl));

    /// <summary>The hosts written in the description's addresses.</summary>
    public IReadOnlySet<string> Hosts => Steps.Select(step => step.Url).Append(Url).Select(FeedAddress.HostOf).Append(MustStayOnHost)
        .OfType<string>().ToHashSet(StringComparer.OrdinalIgnoreCase);

    public bool Uses(string placeholder) =>
        (placeholder == "key" && KeyIsBasicUser)
        || InAddress(placeholder)
        || Headers.Any(header => Placeholders.In(header.Value).Contains(placeholder));

    private bool InAddress(string placeholder) => Steps.Select(step => step.Url).Append(Url).Any(url => Placeholders.In(url).Contains(placeholder));

    public static RequestDescription? From(DescriptionPlace? place, IReadOnlySet<string> localStations, ExpectDescription expect)
    {
        if (place is null || !place.Object("url!", "steps", "mustStayOnHost", "headers", "coordinates", "dates", "secret",
            "mediaTypes!", "fileEncoding", "timeoutSeconds", "maxBytes!"))
            return null;
        var coordinates = place.Member("coordinates");
        coordinates?.Object("decimals", "truncate", "trimZeros");
        var dates = place.Member("dates");
        dates?.Object("pattern", "back", "ahead");
        var request = new RequestDescription
        {
            Url = place.Text("url") ?? "",
            Steps = StepDescription.All(place, localStations),
            MustStayOnHost = place.Text("mustStayOnHost", 253),
            Headers = ReadHeaders(place.Member("headers")),
            Decimals = coordinates?.Whole("decimals", 1, 4) ?? 4,
            Truncate = coordinates?.Flag("truncate") ?? false,
            TrimZeros = coordinates?.Flag("trimZeros") ?? false,
            DatePattern = ReadDatePattern(dates),
            Back = dates?.Whole("back", 0, 4000) ?? expect.Back,
            Ahead = dates?.Whole("ahead", -30, 35) ?? expect.Ahead,
            KeyIsBasicUser = place.Member("secret")?.Text("in") == "basicUser",
            MediaTypes = ReadMediaTypes(place),
            Gzip = ReadGzip(place),
            Deadline = Duration.FromSeconds(place.Whole("timeoutSeconds", 1, 300) ?? 30),
            MaxBytes = place.Whole("maxBytes", 1024, 67_108_864) ?? 1024,
        };
        FeedAddress.Check(place, request, localStations);
        CheckSecret(place, request);
        return request;
    }

    private static List<KeyValuePair<string, string>> ReadHeaders(DescriptionPlace? place)
    {
        if (place is null)
            return [];
        var headers = new List<KeyValuePair<string, string>>();
        foreach (var (name, at) in place.Members())
        {
            var value = at.AsText();
            using var probe = new HttpRequestMessage();
            if (HeadersNotAllowed.Contains(name.ToLowerInvariant()) || !probe.Headers.TryAddWithoutValidation(name, "x"))
                at.Refuse($"The header \"{FailureDescription.Quoted(name)}\" cannot be set.", "Remove it.");
            if (value.Any(letter => letter is < ' ' or > '~'))
                at.Refuse("A header holds one line of plain text.", "Remove line breaks, control characters and letters outside ASCII.");
            Placeholders.Check(at, value);
            headers.Add(new(name, value));
        }
        return headers;
    }

    private static LocalDatePattern ReadDatePattern(DescriptionPlace? dates)
    {
        if (dates?.Text("pattern") is not { } text)
            return LocalDatePattern.Iso;
        return TimePatterns.Date(dates.Member("pattern")!, text) ?? LocalDatePattern.Iso;
    }

    private static IReadOnlyList<string> ReadMediaTypes(DescriptionPlace place)
    {
        var items = place.Items("mediaTypes");
        if (place.Member("mediaTypes") is { } list && items.Count == 0)
            list.Refuse("No content type is listed.", "Name at least one, for example \"application/json\".");
        foreach (var item in items)
        {
            if (!MediaTypeHeaderValue.TryParse(item.AsText(), out var type) || type.Parameters.Count > 0)
                item.Refuse("This is no content type.", "Write type/subtype, for example \"text/csv\".");
        }
        return [.. items.Select(item => item.AsText())];
    }

    private static bool ReadGzip(DescriptionPlace place)
    {
        if (place.Text("fileEncoding") is not { } encoding)
            return false;
        if (encoding != "gzip")
            place.Refuse("fileEncoding", "Only gzip is unpacked.", "Write \"gzip\", or leave it out.");
        return true;
    }

    private static void CheckSecret(DescriptionPlace place, RequestDescription request)
    {
        var secret = place.Member("secret");
        var used = request.InAddress("key") || request.Headers.Any(header => Placeholders.In(header.Value).Contains("key"));
        if (secret is null)
        {
            if (used)
                place.Refuse("secret", "The request uses {key}, but no secret is described.", "Add secret with placeholder and in.");
            return;
        }
        if (!secret.Object("placeholder!", "in!", "headerName"))
            return;
        if (secret.Text("placeholder") is { } name && name != "key")
            secret.Refuse("placeholder", "The placeholder of a secret is key.", "Write \"key\".");
        var header = secret.Text("headerName");
        switch (secret.Text("in"))
        {
            case "query" when !request.InAddress("key"):
                place.Refuse("url", "The secret goes into the query, but the address has no {key}.", "Add it, for example &apikey={key}.");
                break;
            case "header" when !request.Headers.Any(one =>
                string.Equals(one.Key, header, StringComparison.OrdinalIgnoreCase) && Placeholders.In(one.Value).Contains("key")):
                secret.Refuse(
                    "headerName",
                    "The secret goes into a header, but no header of this name holds {key}.",
                    "Add it to headers and name it here.");
                break;
            case null or "query" or "header" or "basicUser":
                break;
            default:
                secret.Refuse("in", "This is not one of the words allowed here.", "Use one of: query, header, basicUser.");
                break;
        }
    }
}
