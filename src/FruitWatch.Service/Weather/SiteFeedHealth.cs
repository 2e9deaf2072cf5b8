using System.Text.Json;
using FruitWatch.Service.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>How a feed stands at a site.</summary>
internal enum FeedStanding
{
    /// <summary>It was not asked yet.</summary>
    NotAsked,

    /// <summary>Its last answer was good.</summary>
    Good,

    /// <summary>Its last try gave nothing; it is asked again.</summary>
    Failing,

    /// <summary>Nothing gets better until somebody changes something.</summary>
    Waiting,

    /// <summary>Its answer is held until somebody says whether its units are right.</summary>
    Asked,
}

/// <summary>What was odd about an answer that was used.</summary>
/// <param name="Code">One of the codes in docs/feeds.md.</param>
/// <param name="Sentence">In words.</param>
/// <param name="Place">Where it was met first.</param>
/// <param name="Count">How often.</param>
internal sealed record FeedNote(string Code, string Sentence, string Place, int Count);

/// <summary>A doubt about a unit, to be answered by a person.</summary>
/// <param name="Text">The question: what was read, and what was to be expected.</param>
/// <param name="Fits">What the values would be read as if they are to fit; null where nothing fits.</param>
/// <param name="Pointer">Where in the description to change it; null where nothing fits.</param>
/// <param name="Value">What to write there, as JSON; null where nothing fits.</param>
internal sealed record FeedQuestion(string Text, string? Fits, string? Pointer, string? Value);

/// <summary>How a feed has been answering for a site, for people and for the API.</summary>
internal sealed record SiteFeedHealth
{
    /// <summary>A feed without a good answer for so long is called silent.</summary>
    public static readonly Duration SilentAfter = Duration.FromDays(2);

    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web);

    public required long SiteId { get; init; }

    public required long FeedId { get; init; }

    /// <summary>What the site uses it for.</summary>
    public required FeedSlot Slot { get; init; }

    public required string Title { get; init; }

    public FeedStanding State { get; init; }

    /// <summary>When it last gave days that could be used.</summary>
    public Instant? LastGoodAt { get; init; }

    /// <summary>Since then; null where it never did.</summary>
    public Duration? Age { get; init; }

    public Instant? LastTriedAt { get; init; }

    /// <summary>When it may be asked again; null before the first try.</summary>
    public Instant? NextTryAt { get; init; }

    /// <summary>Why the last try gave nothing; see docs/feeds.md.</summary>
    public string? ProblemCode { get; init; }

    /// <summary>The same in words.</summary>
    public string? Problem { get; init; }

    /// <summary>What the refused answer looked like, as JSON. Foreign text.</summary>
    public string? Evidence { get; init; }

    public int FailuresInARow { get; init; }

    /// <summary>Last day that the feed has told.</summary>
    public LocalDate? LastDay { get; init; }

    /// <summary>What was odd about the last good answer.</summary>
    public IReadOnlyList<FeedNote> Notes { get; init; } = [];

    /// <summary>The unit asked about while the answer is held.</summary>
    public FeedQuestion? Question { get; init; }

    /// <summary>Without a good answer since then, for two days or more; null where it is not silent.</summary>
    public Instant? SilentSince { get; init; }

    /// <summary>What the provider wants to be shown; null where it wants nothing.</summary>
    public FeedCredit? Credit { get; init; }

    /// <summary>Past years being fetched; null where none were asked for.</summary>
    public Backfill? Backfill { get; init; }

    /// <summary>Part of the past years that has been asked for, 0 to 1; null where none are fetched.</summary>
    public double? BackfillDone => Backfill is not { } fill ? null
        : fill.State == BackfillState.Done ? 1
        : Math.Clamp(Period.DaysBetween(fill.Next, fill.Last) / (double)(Period.DaysBetween(fill.First, fill.Last) + 1), 0, 1);

    /// <summary>Health of every slot of some sites, by site, in order of trust. Four queries, however many sites. Nothing is tracked.</summary>
    /// <param name="store">Where from.</param>
    /// <param name="siteIds">Which sites; all where left out.</param>
    /// <param name="now">The moment.</param>
    /// <param name="stop">Stops it.</param>
    public static async Task<ILookup<long, SiteFeedHealth>> LoadAsync(
        FruitWatchStore store, IReadOnlyCollection<long>? siteIds, Instant now, CancellationToken stop)
    {
        var wanted = siteIds?.ToArray() ?? [];
        var all = siteIds is null;
        var sites = await store.Sites.AsNoTracking().Where(site => all || EF.Parameter(wanted).Contains(site.Id)).OrderBy(site => site.Id).ToListAsync(stop);
        var feeds = await store.Feeds.AsNoTracking().ToDictionaryAsync(feed => feed.Id, stop);
        var told = (await store.SiteFeeds.AsNoTracking().Where(row => all || EF.Parameter(wanted).Contains(row.SiteId)).ToListAsync(stop))
            .ToDictionary(row => (row.SiteId, row.FeedId));
        var fills = (await store.Backfills.AsNoTracking().Where(row => all || EF.Parameter(wanted).Contains(row.SiteId)).ToListAsync(stop))
            .ToDictionary(row => (row.SiteId, row.FeedId));
        var credits = feeds.Values.ToDictionary(feed => feed.Id, feed => FeedCredit.Of(feed.Description));
        return sites
            .SelectMany(site => FilledSlot.Of(site).Select(slot => Of(
                site.Id,
                slot.Slot,
                feeds[slot.FeedId],
                told.GetValueOrDefault((site.Id, slot.FeedId)),
                now) with
            {
                Credit = credits[slot.FeedId],
                Backfill = fills.GetValueOrDefault((site.Id, slot.FeedId)),
            }))
            .ToLookup(health => health.SiteId);
    }

    private static SiteFeedHealth Of(long siteId, FeedSlot slot, Feed feed, SiteFeed? row, Instant now)
    {
        var health = new SiteFeedHealth { SiteId = siteId, FeedId = feed.Id, Slot = slot, Title = feed.Title };
        if (row is null)
            return health;
        var since = row.LastGoodAt ?? row.FirstTriedAt;
        return health with
        {
            State = row.Question is not null ? FeedStanding.Asked
                : row.Waiting ? FeedStanding.Waiting
                : row.ProblemCode is not null ? FeedStanding.Failing
                : FeedStanding.Good,
            LastGoodAt = row.LastGoodAt,
            Age = now - row.LastGoodAt,
            LastTriedAt = row.LastTriedAt,
            NextTryAt = row.NextTryAt,
            ProblemCode = row.ProblemCode,
            Problem = row.Problem,
            Evidence = row.Evidence,
            FailuresInARow = row.FailuresInARow,
            LastDay = row.LastDay,
            Notes = row.Notes is { } notes ? JsonSerializer.Deserialize<List<FeedNote>>(notes, s_json)! : [],
            Question = row.Question is { } question ? JsonSerializer.Deserialize<FeedQuestion>(question, s_json) : null,
            SilentSince = now - since >= SilentAfter ? since : null,
        };
    }
}
