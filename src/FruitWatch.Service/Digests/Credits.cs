using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Digests;

/// <summary>Credit that the weather feeds of sites ask for.</summary>
internal static class Credits
{
    public static async Task<ILookup<long, string>> OfAsync(
        FruitWatchStore store, IReadOnlyList<Site> sites, ServiceOptions options, CancellationToken stop)
    {
        var used = sites.SelectMany(FilledSlot.Of).Select(slot => slot.FeedId).Distinct().ToArray();
        var feeds = await store.Feeds.AsNoTracking().Where(f => EF.Parameter(used).Contains(f.Id)).ToDictionaryAsync(
            f => f.Id, f => CreditOf(FeedDescription.Parse(f.Description, options.LocalStationSet).Attribution), stop);
        return sites
            .SelectMany(s => FilledSlot.Feeds(s).Reverse(), (s, slot) => (s.Id, Text: feeds[slot.FeedId]))
            .Distinct()
            .ToLookup(s => s.Id, s => s.Text);
    }

    /// <summary>All that a provider asks to be named: who, under which licence, and where.</summary>
    private static string CreditOf(FeedAttribution credit) =>
        string.Join(", ", new[] { credit.Text, credit.Licence, credit.Url }.Where(part => !string.IsNullOrWhiteSpace(part)));
}
