using System.Text.Json;
using FruitWatch.Feeds;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>Why a try gave nothing, as it is kept.</summary>
/// <param name="Code">Stable; see docs/feeds.md.</param>
/// <param name="Words">What was wrong, where, what to do.</param>
/// <param name="Permanent">It will not get better by itself.</param>
internal sealed record FeedTrouble(string Code, string Words, bool Permanent)
{
    /// <summary>The description cannot be read.</summary>
    public const string DescriptionCode = "feed.description";

    /// <summary>A fault of the service itself.</summary>
    public const string FaultCode = "service.fault";

    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web);

    /// <summary>What the refused answer looked like, as JSON; null where there was none.</summary>
    public string? Evidence { get; init; }

    /// <summary>How long the host wants to be left alone.</summary>
    public Duration? Pause { get; init; }

    public static FeedTrouble Of(FeedException refusal, FeedEvidence? evidence = null) =>
        new(refusal.Code, refusal.Message, refusal.Permanent)
        {
            Evidence = (refusal.Evidence ?? evidence) is { } seen ? JsonSerializer.Serialize(seen, s_json) : null,
            Pause = refusal.RetryAfter,
        };

    public static FeedTrouble Of(FeedDescriptionException refusal) => new(DescriptionCode, refusal.Message, Permanent: true);

    public static FeedTrouble Fault() => new(
        FaultCode, "The service failed while it worked at the answer. It will be asked again; the operator's log tells more.", Permanent: false);
}
