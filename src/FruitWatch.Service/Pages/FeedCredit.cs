using System.Text.Json;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages;

/// <summary>The credit that a weather feed asks for.</summary>
/// <param name="Text">Its words.</param>
/// <param name="Link">Where it leads; null for nowhere.</param>
internal sealed record FeedCredit(string Text, Uri? Link)
{
    /// <summary>Licence of the data; null where the description names none.</summary>
    public string? Licence { get; init; }

    /// <summary>Conditions worth reading; null for none.</summary>
    public string? Note { get; init; }

    /// <summary>Credits of all feeds that ask for one, by the feed's key.</summary>
    public static async Task<Dictionary<long, FeedCredit>> LoadAsync(FruitWatchStore store, CancellationToken stop)
    {
        var feeds = await store.Feeds.AsNoTracking().Select(feed => new { feed.Id, feed.Description }).ToListAsync(stop);
        return feeds.Select(feed => (feed.Id, Credit: Of(feed.Description))).Where(feed => feed.Credit is not null)
            .ToDictionary(feed => feed.Id, feed => feed.Credit!);
    }

    /// <summary>The credit that a description asks for; null where it cannot be read or asks for none.</summary>
    public static FeedCredit? Of(string description)
    {
        try
        {
            using var json = JsonDocument.Parse(description);
            if (json.RootElement.ValueKind != JsonValueKind.Object || !json.RootElement.TryGetProperty("attribution", out var credit)
                || credit.ValueKind != JsonValueKind.Object || Word(credit, "text") is not { Length: > 0 } text)
                return null;
            var link = Uri.TryCreate(Word(credit, "url"), UriKind.Absolute, out var address) && address.Scheme is "https" or "http" ? address : null;
            return new FeedCredit(text, link) { Licence = Word(credit, "licence"), Note = Word(credit, "note") };
        }
        catch (JsonException)
        {
            // A description that cannot be read is told by the feed itself, where it is pulled.
            return null;
        }
    }

    private static string? Word(JsonElement json, string name) =>
        json.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;
}
