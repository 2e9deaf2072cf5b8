using System.Text.Json;
using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>What discovery steps find, and how far it is trusted: it comes from a server, and says whom to ask next.</summary>
internal static class Discovery
{
    public static readonly FeedCaptures Nothing = new(new Dictionary<string, string>(), Instant.MinValue);

    /// <summary>A step has this long at most, however patient the description is.</summary>
    public static readonly TimeSpan StepDeadline = TimeSpan.FromSeconds(20);

    private const int LongestCapture = 1000;

    private static readonly Duration ClockSkew = Duration.FromMinutes(5);

    /// <summary>What was found earlier, if it is all there, still holds and is safe to use; otherwise null.</summary>
    public static FeedCaptures? Usable(FeedDescription description, FeedCaptures? kept, Instant now)
    {
        var steps = description.Request.Steps;
        if (steps.Count == 0)
            return Nothing;
        var usable = kept is not null
            && kept.At <= now + ClockSkew
            && steps.All(step => step.CacheFor is { } holds && kept.At + holds > now)
            && description.Request.Captured.All(name => kept.Values.TryGetValue(name, out var value) && IsSafe(value))
            && (description.Request.CapturedUrl is not { } whole || IsAddress(description, kept.Values[whole], out _));
        return usable ? kept : null;
    }

    /// <summary>What a step's answer holds, added to what earlier steps found.</summary>
    /// <exception cref="FeedException">Something is missing, or may not be used.</exception>
    public static FeedCaptures Found(
        FeedDescription description, StepDescription step, FetchedFeed answer, FeedCaptures earlier)
    {
        var values = new Dictionary<string, string>(earlier.Values);
        using var document = Open(step, answer);
        if (description.Failure?.ReasonIn(document.RootElement) is { } reason)
            throw Refused(FeedCodes.ReportedError, $"The feed reports an error: \"{reason}\".", answer, "Correct what it names in the request.");
        foreach (var (name, pointer) in step.Captures)
        {
            var value = pointer.Evaluate(document.RootElement) is { ValueKind: JsonValueKind.String or JsonValueKind.Number } found ? CellText.Of(found) : null;
            if (value is null || !IsSafe(value))
                throw Refused(
                    FeedCodes.Missing,
                    $"The step \"{step.Name}\" does not find {pointer}, which gives {{{name}}}.",
                    answer,
                    "Try the address in a browser and correct the pointer.");
            values[name] = value;
            if (description.Request.CapturedUrl == name)
                _ = AddressIn(description, new FeedCaptures(values, answer.FetchedAt), name);
        }
        return new FeedCaptures(values, answer.FetchedAt);
    }

    /// <summary>The address a capture holds.</summary>
    /// <exception cref="FeedException">It may not be asked.</exception>
    public static Uri AddressIn(FeedDescription description, FeedCaptures captures, string name) =>
        IsAddress(description, captures.Values[name], out var uri)
            ? uri
            : throw new FeedException(
                FeedCodes.RedirectRefused,
                $"What {{{name}}} was found to be is no https address on {HostFor(description)}.",
                description.Request.CapturingStep!.Url,
                "Correct the pointer, or mustStayOnHost if you trust the other host.");

    private static bool IsAddress(FeedDescription description, string text, out Uri uri) =>
        Uri.TryCreate(text, UriKind.Absolute, out uri!)
        && uri.Scheme == Uri.UriSchemeHttps
        && uri.IsDefaultPort
        && uri.UserInfo.Length == 0
        && uri.Fragment.Length == 0
        && string.Equals(uri.IdnHost, HostFor(description), StringComparison.OrdinalIgnoreCase);

    private static string? HostFor(FeedDescription description) =>
        description.Request.MustStayOnHost ?? FeedAddress.HostOf(description.Request.CapturingStep!.Url);

    private static bool IsSafe(string value) =>
        value.Length is > 0 and <= LongestCapture && !value.Any(char.IsControl) && !string.IsNullOrWhiteSpace(value);

    private static JsonDocument Open(StepDescription step, FetchedFeed answer)
    {
        try
        {
            return JsonDocument.Parse(Body.Checked(answer.Body), new JsonDocumentOptions { MaxDepth = 32, AllowDuplicateProperties = false });
        }
        catch (JsonException)
        {
            throw Refused(
                FeedCodes.InvalidJson, $"The answer of the step \"{step.Name}\" is not well-formed JSON.", answer, "It will be asked again; look at it in a browser if it lasts.");
        }
    }

    private static FeedException Refused(string code, string sentence, FetchedFeed answer, string mend) =>
        new(code, sentence, answer.Url, mend) { Evidence = FeedEvidence.Of(answer) };
}
