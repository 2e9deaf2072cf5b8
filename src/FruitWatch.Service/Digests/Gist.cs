using System.Globalization;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>The subject of a digest: the day in one line, for somebody who reads no further.</summary>
internal static class Gist
{
    /// <summary>More is cut off by phones.</summary>
    public const int Longest = 70;

    private const int LongestBedName = 24;

    public static string Of(Digest digest, Words words)
    {
        var told = digest.Sites.SelectMany(Told.Of).ToList();
        var news = Told.InOrder(told.Where(t => t.IsNews), digest.Day).ToList();
        var phrases = news.Count > 0 ? News(news, digest.Day, words) : Quiet(digest, told, words);
        var urgent = news.Any(t => t.Draft.Urgent) ? $"{words.NameOf(Urgency.AtOnce)}: " : "";
        return OneLine.Of(Capital(urgent + Joined([.. phrases], Longest - urgent.Length, words), words.Culture), Longest);
    }

    /// <summary>The subject of a letter that takes something back.</summary>
    public static string TakenBack(Digest digest, Words words) =>
        digest.Sites.SelectMany(Told.Of).FirstOrDefault() is { } told
            ? OneLine.Of(Capital(words.NoLongerNeededGist(told.Draft.Kind, OneLine.Of(told.Bed.Name, LongestBedName)), words.Culture), Longest)
            : words.TakenBackTitle;

    /// <summary>With a capital at its beginning.</summary>
    public static string Capital(string text, CultureInfo culture)
    {
        var first = StringInfo.GetNextTextElement(text);
        return first.ToUpper(culture) + text[first.Length..];
    }

    private static IEnumerable<string> News(IReadOnlyList<Told> news, LocalDate today, Words words) => news
        .GroupBy(t => (t.Draft.Kind, Ready: t.Draft.Reason.Code == ReasonCode.FlushReady, t.IsAhead, Due: t.Draft.Deadline <= today))
        .Select(group =>
        {
            var first = group.First();
            var others = group.Select(t => t.Bed.Id).Distinct().Count() - 1;
            var bed = OneLine.Of(first.Bed.Name, LongestBedName);
            return words.Gist(first.Draft, others > 0 ? words.AndMore(bed, others) : bed, today);
        });

    // An old forecast, or none, is no all-clear: then the subject does not say that there is nothing to do.
    private static IEnumerable<string> Quiet(Digest digest, IReadOnlyList<Told> told, Words words)
    {
        var beds = digest.Sites.SelectMany(site => site.Beds).ToList();
        var open = told.Count(t => t.Item.Role == DigestRole.Open);
        if (digest.Sites.Select(site => site.Forecast).Where(forecast => forecast?.IsStale == true).MaxBy(forecast => forecast!.Age) is { } old)
            yield return words.ForecastIsOld(old.Age);
        else if (beds.Count > 0 && beds.All(bed => bed.State is null))
            yield return words.NothingKnown;
        else if (digest.Sites.Any(site => site.Forecast is null))
            yield return words.NoForecastGist;
        else if (open > 0)
            yield return words.NothingNew(open);
        else
            yield return words.NothingToDo;

        if (told.FirstOrDefault(t => t.Item.Role == DigestRole.Withdrawn) is { } withdrawn)
            yield return words.NoLongerNeededGist(withdrawn.Draft.Kind, OneLine.Of(withdrawn.Bed.Name, LongestBedName));
        else if (open == 0)
            yield return words.BedsWatched(beds.Count);
    }

    /// <summary>As many phrases as fit, and how many more there are. The first is always told.</summary>
    private static string Joined(IReadOnlyList<string> phrases, int room, Words words)
    {
        for (var told = phrases.Count; told > 1; told--)
        {
            var parts = phrases.Take(told);
            var line = string.Join("; ", told == phrases.Count ? parts : parts.Append(words.More(phrases.Count - told)));
            if (line.Length <= room)
                return line;
        }

        return phrases[0];
    }
}
