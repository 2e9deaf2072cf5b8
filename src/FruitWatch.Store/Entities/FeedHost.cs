using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>What is remembered about a host that feeds are fetched from, over restarts and for all servers.</summary>
public sealed class FeedHost
{
    /// <summary>Scheme, name and port.</summary>
    public required string Authority { get; set; }

    /// <summary>Until when it asked to be left alone; null where it did not.</summary>
    public Instant? PausedUntil { get; set; }

    /// <summary>"Too many requests" in a row.</summary>
    public int RefusalsInARow { get; set; }

    /// <summary>Failures in a row.</summary>
    public int FailuresInARow { get; set; }

    /// <summary>Until when it is left alone after so many failures; null while it is not.</summary>
    public Instant? RestsUntil { get; set; }

    /// <summary>When this was last changed; of two accounts the later counts.</summary>
    public Instant ChangedAt { get; set; }
}
