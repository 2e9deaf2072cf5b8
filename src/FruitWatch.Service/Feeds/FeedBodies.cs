using System.ComponentModel;
using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Feeds;

/// <summary>A shipped description in a list.</summary>
[Description("A description that comes with the program, to start from.")]
internal sealed record PresetBody(
    [property: Description("Its id.")] string Id,
    [property: Description("What it is.")] string Title,
    [property: Description("Past days, coming days, both, or an ensemble of coming days.")] FeedProvides Provides,
    [property: Description("Read from a file that is handed in.")] bool NeedsFile,
    [property: Description("Needs a provider's key.")] bool NeedsKey,
    [property: Description("Is asked by station.")] bool NeedsStation,
    [property: Description("What must be shown beside the data, and under which conditions they may be used.")] AttributionBody Attribution,
    [property: Description("What one should know before using it.")] IReadOnlyList<string> Caveats)
{
    public static PresetBody Of(FeedDescription preset) => new(
        preset.Id,
        preset.Title,
        preset.Provides,
        preset.IsUpload,
        preset.NeedsKey,
        preset.NeedsStation,
        AttributionBody.Of(preset.Attribution),
        preset.Caveats);
}

/// <summary>A feed as the API gives it.</summary>
[Description("A weather feed of a cooperative. How it has been answering is told site by site.")]
internal sealed record FeedBody(
    [property: Description("Key.")] long Id,
    [property: Description("Whose it is.")] long CooperativeId,
    [property: Description("Short name, once per cooperative.")] string Key,
    [property: Description("What its users call it.")] string Title,
    [property: Description("Whether a provider's key is kept for it. The key is never given back.")] bool HasKey,
    [property: Description("How it is read: weather-feed/1. A text where it is no JSON.")] JsonElement Description,
    [property: Description("The sites that use it, and for what.")] IReadOnlyList<FeedUseBody> UsedBy)
{
    public static FeedBody Of(Feed feed, IEnumerable<Site> sites) => new(
        feed.Id,
        feed.CooperativeId,
        feed.Key,
        feed.Title,
        feed.SealedKey is not null,
        Parsed(feed.Description),
        [.. sites.SelectMany(site => FilledSlot.Of(site).Where(slot => slot.FeedId == feed.Id).Select(slot => new FeedUseBody(site.Id, slot.Slot)))]);

    private static JsonElement Parsed(string description)
    {
        try
        {
            return JsonDocument.Parse(description).RootElement;
        }
        catch (JsonException)
        {
            return JsonSerializer.SerializeToElement(description);
        }
    }
}

/// <summary>What a site uses a feed for.</summary>
[Description("What a site uses a feed for.")]
internal sealed record FeedUseBody(
    [property: Description("Key of the site.")] long SiteId, [property: Description("station, archive or forecast.")] FeedSlot Slot);

/// <summary>Saves a trial.</summary>
[Description("Saves a trial that was seen to be good, exactly as it was seen.")]
internal sealed record FeedSaved(
    [property: Description("Key of the trial; it is used up.")] Guid DraftId,
    [property: Description("What the trial's site is to use the feed for: station, archive, forecast. What is not named stays as it is.")] IReadOnlyList<FeedSlot>? Fills,
    [property: Description("Needed where the trial asks about units: you looked at them, and they are right.")] bool? UnitsConfirmed) : IReadBody<FeedSaved>
{
    public static FeedSaved Read(JsonFields fields)
    {
        var id = Guid.Empty;
        if (fields.Text("draftId", 36, required: true) is { } text && !Guid.TryParseExact(text, "D", out id))
            fields.Refuse("draftId", "Expected the id of a trial, as POST /api/v1/feed-trials gives it.");
        return new FeedSaved(id, fields.Words<FeedSlot>("fills"), fields.YesNo("unitsConfirmed"));
    }
}
