using System.Globalization;
using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>What goes in place of a request's placeholders.</summary>
internal sealed class AskValues(
    RequestDescription asked, FeedSite site, FeedRequest request, FeedClientOptions options, IReadOnlyDictionary<string, string>? captured)
{
    private const char LastPlain = '~';

    /// <exception cref="FeedException">There is no value for it.</exception>
    public string Of(string name)
    {
        if (captured?.GetValueOrDefault(name) is { } found)
            return found;
        return name switch
        {
            "latitude" => Coordinate(site.Latitude),
            "longitude" => Coordinate(site.Longitude),
            // Adding zero turns the -0 of a rounded -0.3 into 0.
            "altitude" => site.Elevation is { } metres
                ? (Math.Round(metres) + 0.0).ToString("0", CultureInfo.InvariantCulture)
                : throw Lacking("the site's elevation", "Set it on the site."),
            "start" => asked.DatePattern.Format(request.Start ?? request.Today.PlusDays(-asked.Back!.Value)),
            "end" => asked.DatePattern.Format(request.End ?? request.Today.PlusDays(asked.Ahead!.Value)),
            "back" => Back().ToString(CultureInfo.InvariantCulture),
            "ahead" => asked.Ahead!.Value.ToString(CultureInfo.InvariantCulture),
            "timeZone" => site.Zone.Id,
            "station" => Given(site.Station, "the station's identifier", "Set it on the site."),
            "userAgent" => Plain(Given(options.UserAgent, "the name the service goes by", "The operator sets the user agent.")),
            "key" => Given(request.Key, "the feed's key", "Enter the key the provider gave you."),
            _ => throw Lacking($"the value of {{{name}}}", "A step finds it; ask again."),
        };
    }

    /// <summary>The value of a header.</summary>
    /// <exception cref="FeedException">It cannot be sent.</exception>
    public string Header(string template)
    {
        var value = Placeholders.Fill(template, Of);
        return value.All(letter => letter is >= ' ' and <= LastPlain)
            ? value
            : throw Lacking("letters that can be sent in a header", "Use ASCII in the station's identifier and the key.");
    }

    /// <summary>Who asks: the operator is named whatever the description says.</summary>
    public string Agent(string? template)
    {
        var operators = Of("userAgent");
        if (string.IsNullOrWhiteSpace(template))
            return operators;
        var agent = Header(template);
        return agent.Contains(operators, StringComparison.Ordinal) ? agent : $"{agent} {operators}";
    }

    private static string Plain(string text) => new([.. text.Select(letter => letter is >= ' ' and <= LastPlain ? letter : '?')]);

    private static string Given(string? value, string what, string mend) =>
        string.IsNullOrWhiteSpace(value) || value.Any(char.IsControl) ? throw Lacking(what, mend) : value;

    private static FeedException Lacking(string what, string mend) =>
        new(FeedCodes.RequestIncomplete, $"The feed cannot be asked without {what}.", "the request", mend);

    private int Back() =>
        request.Start is { } start ? Math.Max(0, Period.DaysBetween(start, request.Today)) : asked.Back!.Value;

    private string Coordinate(double degrees)
    {
        if (!double.IsFinite(degrees) || Math.Abs(degrees) > 360)
            throw Lacking("the site's coordinates", "Set them on the site.");
        var unit = (decimal)Math.Pow(10, asked.Decimals);
        var scaled = (decimal)degrees * unit;
        var cut = (asked.Truncate ? decimal.Truncate(scaled) : decimal.Round(scaled)) / unit;
        return cut.ToString(asked.TrimZeros ? "0.####" : "0." + new string('0', asked.Decimals), CultureInfo.InvariantCulture);
    }
}
