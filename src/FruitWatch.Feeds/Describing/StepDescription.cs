using System.Text.RegularExpressions;
using NodaTime;

namespace FruitWatch.Feeds.Describing;

/// <summary>A request that finds something out first: mostly the address of the grid cell a site lies in.</summary>
/// <param name="Name">For messages.</param>
/// <param name="Url">With placeholders, among them what earlier steps captured.</param>
/// <param name="Captures">What to take out of the answer, and the names it goes by as a placeholder.</param>
/// <param name="CacheFor">How long that holds; null asks each time.</param>
/// <param name="RefreshOnStatus">Answers of the feed itself that mean that it no longer holds.</param>
internal sealed partial record StepDescription(
    string Name, string Url, IReadOnlyList<KeyValuePair<string, JsonPointer>> Captures, Duration? CacheFor, IReadOnlyList<int> RefreshOnStatus)
{
    private const int MostSteps = 2;
    private const int MostCaptures = 8;

    /// <summary>A zone the feed names may stand in for the site's; nothing else that we fill in may come from a server.</summary>
    private const string Zone = "timeZone";

    public static IReadOnlyList<StepDescription> All(DescriptionPlace request, IReadOnlySet<string> localStations)
    {
        var places = request.Items("steps", MostSteps);
        if (request.Member("steps") is { IsClean: true } list && places.Count == 0)
            list.Refuse("No step is listed.", "Remove it, or describe what to ask first.");
        var steps = new List<StepDescription>();
        var captured = new HashSet<string>();
        foreach (var place in places)
        {
            if (!place.Object("name!", "url!", "capture!", "cacheFor", "refreshOnStatus"))
                continue;
            var url = place.Text("url") ?? "";
            if (place.Member("url") is { IsClean: true } at)
                FeedAddress.CheckOne(at, url, captured, localStations, httpsOnly: true);
            var captures = ReadCaptures(place.Member("capture"), captured);
            captured.UnionWith(captures.Select(capture => capture.Key));
            steps.Add(new StepDescription(place.Text("name", 64) ?? "", url, captures, place.Span("cacheFor"), ReadStatus(place)));
        }
        return steps;
    }

    private static List<KeyValuePair<string, JsonPointer>> ReadCaptures(DescriptionPlace? place, HashSet<string> earlier)
    {
        var captures = new List<KeyValuePair<string, JsonPointer>>();
        if (place is null)
            return captures;
        var members = place.Members();
        if (members.Count is 0 or > MostCaptures)
            place.Refuse($"A step captures 1 to {MostCaptures} things.", "Write { \"name\": \"/pointer\" }.");
        foreach (var (name, at) in members)
        {
            if (!CaptureName().IsMatch(name) || (name != Zone && Placeholders.Known.Contains(name)) || earlier.Contains(name))
                at.Refuse(
                    $"Nothing can be captured under the name \"{FailureDescription.Quoted(name)}\".",
                    $"Use letters, a lower-case one first, and no name that is taken: {string.Join(", ", Placeholders.Known.Where(known => known != Zone).Union(earlier))}.");
            if (at.AsPointer() is { } pointer)
                captures.Add(new(name, pointer));
        }
        return captures;
    }

    private static List<int> ReadStatus(DescriptionPlace place)
    {
        var all = new List<int>();
        foreach (var item in place.Items("refreshOnStatus", 20))
        {
            var status = item.AsNumber();
            if (status is not (>= 300 and <= 499) || status != Math.Floor(status))
                item.Refuse("A status from 300 to 499 is needed here.", "Write for example 404.");
            else
                all.Add((int)status);
        }
        return all;
    }

    [GeneratedRegex("^[a-z][A-Za-z]{0,31}$")]
    private static partial Regex CaptureName();
}
