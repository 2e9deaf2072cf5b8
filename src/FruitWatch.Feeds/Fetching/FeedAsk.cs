using System.Globalization;
using System.Text;
using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>A description's request with everything filled in: one address and its headers.</summary>
/// <param name="Uri">With the key.</param>
/// <param name="ShownUrl">Without the key, for messages, logs and the store.</param>
/// <param name="PlaceUrl">The same with its dates left as the names of their placeholders.</param>
/// <param name="Headers">With the key.</param>
internal sealed record FeedAsk(Uri Uri, string ShownUrl, string PlaceUrl, IReadOnlyList<KeyValuePair<string, string>> Headers)
{
    private static readonly string[] Dates = ["start", "end", "back", "ahead"];

    public string Authority => Uri.GetLeftPart(UriPartial.Authority);

    /// <exception cref="FeedException">The site or the request lacks something the address needs.</exception>
    public static FeedAsk For(FeedDescription description, FeedSite site, FeedRequest request, FeedClientOptions options)
    {
        var asked = description.Request;
        var values = new Values(asked, site, request, options);
        var shown = Placeholders.Fill(asked.Url, name => name == "key" ? "{key}" : Uri.EscapeDataString(values.Of(name)));
        var place = Placeholders.Fill(asked.Url, name => name == "key" || Dates.Contains(name) ? $"{{{name}}}" : Uri.EscapeDataString(values.Of(name)));
        // The key goes in last, so that no other step can hold or show it.
        var uri = new Uri(Placeholders.Fill(shown, _ => Uri.EscapeDataString(values.Of("key"))));
        if (!FeedAddress.IsSchemeAllowed(uri, options.LocalStations))
            throw new FeedException(
                FeedCodes.RequestIncomplete,
                $"The host {uri.Host} may not be asked without TLS.",
                shown,
                "Use https, or have the operator allow it by host and port.");
        var headers = asked.Headers.Select(header => KeyValuePair.Create(header.Key, Placeholders.Fill(header.Value, values.Of))).ToList();
        if (asked.KeyIsBasicUser)
            headers.Add(new("Authorization", "Basic " + Convert.ToBase64String(Encoding.UTF8.GetBytes(values.Of("key") + ":"))));
        return new FeedAsk(uri, shown, place, headers);
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
        if (!message.Headers.Contains("Accept"))
            message.Headers.TryAddWithoutValidation("Accept", "*/*");
        return message;
    }

    private sealed class Values(RequestDescription asked, FeedSite site, FeedRequest request, FeedClientOptions options)
    {
        public string Of(string name) => name switch
        {
            "latitude" => Coordinate(site.Latitude),
            "longitude" => Coordinate(site.Longitude),
            "altitude" => site.Elevation is { } metres
                ? metres.ToString("0", CultureInfo.InvariantCulture)
                : throw Lacking("the site's elevation", "Set it on the site."),
            "start" => asked.DatePattern.Format(request.Start ?? request.Today.PlusDays(-asked.Back!.Value)),
            "end" => asked.DatePattern.Format(request.End ?? request.Today.PlusDays(asked.Ahead!.Value)),
            "back" => Back().ToString(CultureInfo.InvariantCulture),
            "ahead" => asked.Ahead!.Value.ToString(CultureInfo.InvariantCulture),
            "timeZone" => site.Zone.Id,
            "station" => Given(site.Station, "the station's identifier", "Set it on the site."),
            "userAgent" => Given(options.UserAgent, "the name the service goes by", "The operator sets the user agent."),
            _ => Given(request.Key, "the feed's key", "Enter the key the provider gave you."),
        };

        private int Back() =>
            request.Start is { } start ? Math.Max(0, Period.DaysBetween(start, request.Today)) : asked.Back!.Value;

        private string Coordinate(double degrees)
        {
            var unit = (decimal)Math.Pow(10, asked.Decimals);
            var scaled = (decimal)degrees * unit;
            var cut = (asked.Truncate ? decimal.Truncate(scaled) : decimal.Round(scaled)) / unit;
            return cut.ToString(asked.TrimZeros ? "0.####" : "0." + new string('0', asked.Decimals), CultureInfo.InvariantCulture);
        }

        private static string Given(string? value, string what, string mend) =>
            string.IsNullOrWhiteSpace(value) || value.Any(char.IsControl) ? throw Lacking(what, mend) : value;

        private static FeedException Lacking(string what, string mend) =>
            new(FeedCodes.RequestIncomplete, $"The feed cannot be asked without {what}.", "the request", mend);
    }
}
