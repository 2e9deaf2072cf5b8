using System.Text.Json;
using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;

namespace FruitWatch.Feeds;

/// <summary>
/// A weather feed as somebody described it, read and checked: where to ask, what the answer looks like, and how its values
/// become local days. Immutable.
/// </summary>
/// <remarks>The language, <c>weather-feed/1</c>, is explained field by field in docs/feeds.md.</remarks>
public sealed record FeedDescription
{
    internal const string Schema = "weather-feed/1";

    private FeedDescription(string json) => Json = json;

    /// <summary>Lower-case letters, digits and hyphens.</summary>
    public string Id { get; private init; } = "";

    /// <summary>For people.</summary>
    public string Title { get; private init; } = "";

    /// <summary>Whether the feed gives past days, coming days or both.</summary>
    public FeedProvides Provides { get; private init; }

    /// <summary>What must be shown beside the data.</summary>
    public FeedAttribution Attribution { get; private init; } = new("", null, null, null);

    /// <summary>How often to ask.</summary>
    public FeedRefresh Refresh { get; private init; } = FeedRefresh.Hourly;

    /// <summary>What the user should know about this feed.</summary>
    public IReadOnlyList<string> Caveats { get; private init; } = [];

    /// <summary>The data come from a file somebody hands in, not from an address.</summary>
    public bool IsUpload => Request.Url == RequestDescription.Upload;

    /// <summary>A key must be given with each request.</summary>
    public bool NeedsKey => Request.Uses("key");

    /// <summary>The site must name a station.</summary>
    public bool NeedsStation => Request.Uses("station");

    /// <summary>The site's elevation must be known.</summary>
    public bool NeedsElevation => Request.Uses("altitude");

    /// <summary>The text it was read from, as it was written.</summary>
    public string Json { get; }

    internal RequestDescription Request { get; private init; } = null!;

    internal FailureDescription? Failure { get; private init; }

    internal FeedForm Form { get; private init; } = null!;

    internal TimeDescription Time { get; private init; } = null!;

    internal IReadOnlyList<SeriesDescription> Series { get; private init; } = [];

    internal IReadOnlyList<DailyDescription> Daily { get; private init; } = [];

    internal ExpectDescription Expect { get; private init; } = null!;

    /// <summary>
    /// The description as it was understood: in one order, with what was left out written out. Reading it again gives the same
    /// text and the same days of every answer.
    /// </summary>
    public string Write() => DescriptionText.Of(this);

    /// <summary>Reads and checks a description.</summary>
    /// <param name="json">The text in the language <c>weather-feed/1</c>.</param>
    /// <param name="localStations">
    /// Endpoints, as exact <c>host:port</c>, that may be on the own network and asked without TLS, as the operator allows. None if
    /// left out.
    /// </param>
    /// <exception cref="FeedDescriptionException">Anything is wrong; every problem is listed with its place.</exception>
    public static FeedDescription Parse(string json, IReadOnlySet<string>? localStations = null)
    {
        ArgumentNullException.ThrowIfNull(json);
        var problems = new List<FeedDescriptionProblem>();
        using var document = Open(json);
        var root = new DescriptionPlace(document.RootElement, "", problems);
        var description = Read(root, json, localStations ?? new HashSet<string>());
        return problems.Count == 0 ? description! : throw new FeedDescriptionException(problems);
    }

    private static FeedDescription? Read(DescriptionPlace root, string json, IReadOnlySet<string> localStations)
    {
        if (!root.Object("schema!", "id!", "title!", "provides!", "attribution!", "request!", "refresh!", "failure", "format!",
            "time!", "series!", "daily!", "expect!", "caveats"))
            return null;
        if (root.Text("schema") is { } schema && schema != Schema)
            root.Refuse("schema", $"This program reads {Schema} only.", $"Write \"{Schema}\".");
        if (root.Text("id") is { } id && !IsId(id))
            root.Refuse(
                "id",
                "An id has 2 to 64 lower-case letters, digits and hyphens and begins with a letter or digit.",
                "Shorten or rewrite it.");
        if (root.Text("title", 120) is { } title && string.IsNullOrWhiteSpace(title))
            root.Refuse("title", "The title is blank.", "Say in a few words what the feed is.");

        var form = FeedForm.From(root.Member("format"));
        var time = TimeDescription.From(root.Member("time"), form);
        var expect = ExpectDescription.From(root.Member("expect"));
        var series = root.Member("series") is { } all ? SeriesDescription.All(all, form, time) : [];
        var daily = root.Member("daily") is { } days ? DailyDescription.All(days, series) : [];
        var request = ReadRequest(root, localStations, expect);
        if (form is not null && request is not null)
            form.Check(root.Member("format")!, request);
        return new FeedDescription(json)
        {
            Id = root.Text("id") ?? "",
            Title = root.Text("title", 120) ?? "",
            Provides = root.Word("provides", FeedProvides.Both, "forecast", "history", "both", "ensemble"),
            Attribution = FeedAttribution.From(root.Member("attribution")),
            Refresh = FeedRefresh.From(root.Member("refresh")),
            Caveats = root.Texts("caveats"),
            Request = request!,
            Failure = FailureDescription.From(root.Member("failure")),
            Form = form!,
            Time = time!,
            Series = series,
            Daily = daily,
            Expect = expect,
        };
    }

    private static RequestDescription? ReadRequest(DescriptionPlace root, IReadOnlySet<string> localStations, ExpectDescription expect)
    {
        try
        {
            return RequestDescription.From(root.Member("request"), localStations, expect);
        }
        catch (UriFormatException)
        {
            // What looks like an address may still hold a host that no name system takes; asking it for its name throws.
            root.Refuse("request", "An address names a host that cannot exist.", "Correct the host's name in url, or in the url of a step.");
            return null;
        }
    }

    private static JsonDocument Open(string json)
    {
        try
        {
            return JsonDocument.Parse(json, new JsonDocumentOptions { AllowDuplicateProperties = false, MaxDepth = 16 });
        }
        catch (JsonException fault)
        {
            var place = fault.LineNumber is { } line ? $"line {line + 1}, byte {fault.BytePositionInLine + 1}" : "the text";
            throw new FeedDescriptionException(
                [new FeedDescriptionProblem("", $"The description is not well-formed JSON, or names a member twice ({place}).", "Correct it there.")]);
        }
    }

    private static bool IsId(string id) =>
        id.Length is >= 2 and <= 64 && id[0] != '-' && id.All(letter => letter is (>= 'a' and <= 'z') or (>= '0' and <= '9') or '-');
}
