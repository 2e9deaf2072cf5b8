using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>The morning round of a site on a local day. One row per site and day, so that a round counts once.</summary>
public sealed class SiteMorning
{
    /// <summary>The site.</summary>
    public long SiteId { get; set; }

    /// <summary>The site's local day.</summary>
    public LocalDate On { get; set; }

    /// <summary>When the round was done.</summary>
    public Instant DoneAt { get; set; }

    /// <summary>Too late to be called this morning's.</summary>
    public bool Late { get; set; }

    /// <summary>Forecast that it went by; null without one.</summary>
    public long? ForecastIssueId { get; set; }

    /// <summary>Age of that forecast: when it was issued.</summary>
    public Instant? ForecastIssuedAt { get; set; }

    /// <summary>The forecast by which the site was last looked at for what cannot wait until the next morning; null without one.</summary>
    public long? LookedAtForecastId { get; set; }

    /// <summary>How the feed stood: a code such as <c>fresh</c>, <c>stale</c> or <c>missing</c>.</summary>
    public required string FeedState { get; set; }

    /// <summary>What was odd about the round, in words; empty when nothing was.</summary>
    public string Note { get; set; } = "";
}
