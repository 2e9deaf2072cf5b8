using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>
/// What is known of one host's patience with us, for the caller to keep over restarts and to share between servers. Holds
/// no key and no path.
/// </summary>
/// <param name="Authority">Scheme, name and port, for example "https://api.weather.gov".</param>
/// <param name="PausedUntil">The host asked not to be asked before.</param>
/// <param name="RefusalsInARow">Times it asked for a pause since the last answer.</param>
/// <param name="FailuresInARow">Attempts that failed by the host's fault since the last answer.</param>
/// <param name="RestsUntil">After several failures it is left alone until then; afterwards one request tries it.</param>
/// <param name="ChangedAt">When any of this changed last; of two states the later one holds.</param>
public sealed record FeedHostState(
    string Authority, Instant? PausedUntil, int RefusalsInARow, int FailuresInARow, Instant? RestsUntil, Instant ChangedAt);
