using System.Text;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Fetching;

/// <summary>A description's request with everything filled in: one address and its headers.</summary>
/// <param name="Uri">With the key.</param>
/// <param name="ShownUrl">Without the key, for messages, logs and the store.</param>
/// <param name="PlaceUrl">The same with its dates left as the names of their placeholders.</param>
/// <param name="Headers">With the key.</param>
/// <param name="Limits">What the answer may be like.</param>
internal sealed record FeedAsk(
    Uri Uri, string ShownUrl, string PlaceUrl, IReadOnlyList<KeyValuePair<string, string>> Headers, AnswerLimits Limits)
{
    // A point's answer is a page of text; more than this is something else.
    private const int MostBytesOfStep = 262_144;

    private static readonly string[] Dates = ["start", "end", "back", "ahead"];

    // What another host may be told: who asks, and what for.
    private static readonly string[] ForAnyHost = ["User-Agent", "Accept"];

    /// <summary>To be taken out of whatever is shown or kept.</summary>
    public string? Key { get; private init; }

    /// <summary>The version already known, where only news is asked for.</summary>
    public FeedValidators? IfChanged { get; init; }

    /// <summary>It asks where to ask.</summary>
    public bool IsStep { get; private init; }

    /// <summary>Scheme, name and port.</summary>
    public string Authority => Uri.GetLeftPart(UriPartial.Authority);

    /// <exception cref="FeedException">The site or the request lacks something the address needs.</exception>
    public static FeedAsk For(
        FeedDescription description, FeedSite site, FeedRequest request, FeedClientOptions options, FeedCaptures? captures = null)
    {
        var asked = description.Request;
        var values = new AskValues(asked, site, request, options, captures?.Values);
        var limits = new AnswerLimits(asked.MediaTypes, false, asked.MaxBytes, asked.Gzip);
        var ask = asked.CapturedUrl is { } whole
            ? new FeedAsk(Discovery.AddressIn(description, captures!, whole), captures!.Values[whole], captures.Values[whole], [], limits)
            : At(asked.Url, values, limits, options);
        return ask.With(asked, values, request);
    }

    /// <summary>The request of a step.</summary>
    /// <exception cref="FeedException">The site or the request lacks something the address needs.</exception>
    public static FeedAsk ForStep(
        FeedDescription description, StepDescription step, FeedSite site, FeedRequest request, FeedClientOptions options, FeedCaptures captures)
    {
        var asked = description.Request;
        var values = new AskValues(asked, site, request, options, captures.Values);
        var limits = new AnswerLimits(asked.MediaTypes, true, Math.Min(asked.MaxBytes, MostBytesOfStep), false);
        var ask = At(step.Url, values, limits, options).With(asked, values, request) with { IsStep = true };
        var accepted = ask.Headers.FirstOrDefault(header => Is(header, "Accept")).Value;
        return accepted is null || accepted.Contains("json", StringComparison.OrdinalIgnoreCase) || accepted.Contains('*', StringComparison.Ordinal)
            ? ask
            : ask with { Headers = [.. ask.Headers.Where(header => !Is(header, "Accept")), new("Accept", "application/json")] };
    }

    /// <summary>The same asked at another address; another host learns no key and nothing the description has set.</summary>
    public FeedAsk To(Uri next)
    {
        var moved = this with { Uri = next };
        return moved.Authority == Authority
            ? moved
            : moved with { Headers = [.. Headers.Where(header => ForAnyHost.Any(name => Is(header, name)))], IfChanged = null };
    }

    public HttpRequestMessage Message()
    {
        var message = new HttpRequestMessage(HttpMethod.Get, Uri)
        {
            Version = System.Net.HttpVersion.Version20,
            VersionPolicy = HttpVersionPolicy.RequestVersionOrLower,
        };
        // Not validated: a mail address in a User-Agent is no token, yet some providers ask for exactly that.
        foreach (var (name, value) in Headers)
            message.Headers.TryAddWithoutValidation(name, value);
        if (IfChanged?.Etag is { } tag)
            message.Headers.TryAddWithoutValidation("If-None-Match", tag);
        if (IfChanged?.LastModified is { } time)
            message.Headers.TryAddWithoutValidation("If-Modified-Since", time);
        return message;
    }

    private static FeedAsk At(string url, AskValues values, AnswerLimits limits, FeedClientOptions options)
    {
        var shown = Placeholders.Fill(url, name => name == "key" ? "{key}" : Uri.EscapeDataString(values.Of(name)));
        var place = Placeholders.Fill(url, name => name == "key" || Dates.Contains(name) ? $"{{{name}}}" : Uri.EscapeDataString(values.Of(name)));
        // The key goes in last, so that no other step can hold or show it.
        var uri = new Uri(Placeholders.Fill(shown, _ => Uri.EscapeDataString(values.Of("key"))));
        if (!FeedAddress.IsSchemeAllowed(uri, options.LocalStations))
            throw new FeedException(
                FeedCodes.RequestIncomplete,
                $"The host {uri.Host} may not be asked without TLS.",
                shown,
                "Use https, or have the operator allow it by host and port.");
        return new FeedAsk(uri, shown, place, [], limits);
    }

    private static bool Is(KeyValuePair<string, string> header, string name) => string.Equals(header.Key, name, StringComparison.OrdinalIgnoreCase);

    private FeedAsk With(RequestDescription asked, AskValues values, FeedRequest request)
    {
        var headers = asked.Headers.Where(header => !Is(header, "User-Agent"))
            .Select(header => KeyValuePair.Create(header.Key, values.Header(header.Value))).ToList();
        var agent = asked.Headers.FirstOrDefault(header => Is(header, "User-Agent")).Value;
        headers.Add(new("User-Agent", values.Agent(agent)));
        var accept = headers.FindIndex(header => Is(header, "Accept"));
        if (accept < 0)
            headers.Add(new("Accept", request.AlternativeAccept ? "*/*;q=0.9" : "*/*"));
        else if (request.AlternativeAccept)
            headers[accept] = new("Accept", headers[accept].Value + ", */*;q=0.1");
        if (asked.KeyIsBasicUser)
            headers.Add(new("Authorization", "Basic " + Convert.ToBase64String(Encoding.UTF8.GetBytes(values.Of("key") + ":"))));
        return this with { Headers = headers, Key = request.Key };
    }
}
