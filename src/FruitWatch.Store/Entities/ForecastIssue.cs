using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A forecast as it was fetched, kept for ever: what was known on a day can only be judged from what was issued.</summary>
public sealed class ForecastIssue
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>The site.</summary>
    public long SiteId { get; set; }

    /// <summary>The feed.</summary>
    public long FeedId { get; set; }

    /// <summary>When the feed issued it, or when it was fetched where the feed does not say.</summary>
    public Instant IssuedAt { get; set; }

    /// <summary>When it was first fetched.</summary>
    public Instant FetchedAt { get; set; }

    /// <summary>First local day in it.</summary>
    public LocalDate FirstDay { get; set; }

    /// <summary>How many days it covers.</summary>
    public int Days { get; set; }

    /// <summary>The days, members included, as compact JSON.</summary>
    public required string Payload { get; set; }
}
