using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>How a feed has been answering for a site. The row appears with the first try.</summary>
public sealed class SiteFeed
{
    /// <summary>The site.</summary>
    public long SiteId { get; set; }

    /// <summary>The feed.</summary>
    public long FeedId { get; set; }

    /// <summary>When it last gave days that could be used, or said that nothing had changed since.</summary>
    public Instant? LastGoodAt { get; set; }

    /// <summary>When it was last asked.</summary>
    public Instant? LastTriedAt { get; set; }

    /// <summary>First of the tries, kept so that a feed that never answered can be called silent.</summary>
    public Instant FirstTriedAt { get; set; }

    /// <summary>When it may be asked again.</summary>
    public Instant NextTryAt { get; set; }

    /// <summary>Code of why the last try gave nothing; null after a good one.</summary>
    public string? ProblemCode { get; set; }

    /// <summary>The same in words: what was wrong, where, what to do.</summary>
    public string? Problem { get; set; }

    /// <summary>Status, size and first bytes of the answer that was refused, as JSON; null after a good one.</summary>
    public string? Evidence { get; set; }

    /// <summary>Nothing will get better until somebody changes something.</summary>
    public bool Waiting { get; set; }

    /// <summary>Tries without a good answer since the last good one.</summary>
    public int FailuresInARow { get; set; }

    /// <summary>Last day that the feed has told, ahead or gone by.</summary>
    public LocalDate? LastDay { get; set; }

    /// <summary>What was odd about the last good answer, as a JSON list of notes; null for nothing.</summary>
    public string? Notes { get; set; }

    /// <summary>The unit asked about while the answer is held, as JSON; null where nothing is asked.</summary>
    public string? Question { get; set; }

    /// <summary>Version of the feed's row for which somebody said that its units are right; null where nobody was asked.</summary>
    public int? UnitsConfirmed { get; set; }

    /// <summary>Version of the feed's row when it was last tried: a changed description is worth another try.</summary>
    public int TriedVersion { get; set; }

    /// <summary>What the feed's discovery steps found for this site, as JSON with its moment; null where there are none.</summary>
    public string? Captures { get; set; }

    /// <summary>When the coordinator was told that the feed is silent; null while it answers.</summary>
    public Instant? SilenceToldAt { get; set; }
}
