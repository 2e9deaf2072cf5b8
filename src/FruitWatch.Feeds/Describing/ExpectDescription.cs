using NodaTime;

namespace FruitWatch.Feeds.Describing;

/// <summary>What an answer must hold to be believed.</summary>
internal sealed record ExpectDescription
{
    public IReadOnlyList<JsonPointer> Present { get; private init; } = [];

    /// <summary>Days before today. [d]</summary>
    public int? Back { get; private init; }

    /// <summary>Days from today on. [d]</summary>
    public int? Ahead { get; private init; }

    public JsonPointer? FreshAt { get; private init; }

    public Duration MaxAge { get; private init; }

    public JsonPointer? ReturnedAt { get; private init; }

    public JsonPointer? MatchedAt { get; private init; }

    public int MinMembers { get; private init; } = 1;

    public static ExpectDescription From(DescriptionPlace? place)
    {
        if (place is null || !place.Object("present", "horizonDays", "freshness", "pageCheck", "minMembers"))
            return new ExpectDescription();
        var horizon = place.Member("horizonDays");
        horizon?.Object("back", "ahead");
        var freshness = place.Member("freshness");
        freshness?.Object("at!", "maxAge!");
        var pages = place.Member("pageCheck");
        pages?.Object("returnedAt!", "matchedAt!");
        return new ExpectDescription
        {
            Present = [.. place.Items("present").Select(item => item.AsPointer()).OfType<JsonPointer>()],
            Back = horizon?.Whole("back", 0, 40_000),
            Ahead = horizon?.Whole("ahead", 0, 60),
            FreshAt = freshness?.At("at"),
            MaxAge = freshness?.Span("maxAge") ?? Duration.Zero,
            ReturnedAt = pages?.At("returnedAt"),
            MatchedAt = pages?.At("matchedAt"),
            MinMembers = place.Whole("minMembers", 1, 100) ?? 1,
        };
    }
}
