using NodaTime;

namespace FruitWatch.Feeds.Fetching;

/// <summary>What an answer says of its own age and version.</summary>
internal static class Freshness
{
    private static readonly Duration LongestExpiry = Duration.FromDays(1);

    // Some services stamp answers days ahead. Asked with such a time they would say "nothing new" until then.
    private static readonly Duration ClockSkew = Duration.FromMinutes(5);

    /// <summary>
    /// The version's marks, letter by letter as the server wrote them: to be called before anything has these headers parsed, which
    /// would leave them as the framework writes them.
    /// </summary>
    public static FeedValidators ValidatorsOf(HttpResponseMessage response, Instant now)
    {
        var tag = response.Headers.NonValidated.TryGetValues("ETag", out var tags) ? tags.ToString() : null;
        var time = response.Content.Headers.NonValidated.TryGetValues("Last-Modified", out var times) ? times.ToString() : null;
        return new FeedValidators(Usable(tag), InstantOf(time) <= now + ClockSkew ? time : null);
    }

    /// <summary>What to ask with, of what was kept: only the kind described, and only if it is believable.</summary>
    public static FeedValidators? Conditions(FeedValidators? kept, FeedConditional conditional, Instant now) => conditional switch
    {
        FeedConditional.Etag when Usable(kept?.Etag) is { } tag => new FeedValidators(tag, null),
        FeedConditional.LastModified when InstantOf(kept?.LastModified) <= now + ClockSkew => new FeedValidators(null, kept!.LastModified),
        _ => null,
    };

    /// <summary>The moment a header names. The framework's reader knows all three spellings of RFC 9110, and takes none for local time.</summary>
    public static Instant? InstantOf(string? header)
    {
        using var carrier = new ByteArrayContent([]);
        return Usable(header) is { } text && carrier.Headers.TryAddWithoutValidation("Last-Modified", text) && carrier.Headers.LastModified is { } time
            ? Instant.FromDateTimeOffset(time)
            : null;
    }

    /// <summary>
    /// Until when asking again is of no use: s-maxage before max-age (an answer that a provider's own front servers keep does not
    /// change sooner for us), and both before Expires, which is measured on the server's clock; less the time the answer has
    /// lain about. At most a day. RFC 9111 section 4.2.
    /// </summary>
    public static Instant? ExpiryOf(HttpResponseMessage response, Instant now)
    {
        var control = response.Headers.CacheControl;
        if (control is { NoStore: true } or { NoCache: true })
            return null;
        var lifetime = (control?.SharedMaxAge ?? control?.MaxAge) is { } stated ? Duration.FromTimeSpan(stated) : ByExpires(response, now);
        var left = lifetime - Duration.FromTimeSpan(response.Headers.Age ?? TimeSpan.Zero);
        return left > Duration.Zero ? now + Duration.Min(left.Value, LongestExpiry) : null;
    }

    private static Duration? ByExpires(HttpResponseMessage response, Instant now)
    {
        if (response.Content.Headers.Expires is not { } until)
            return null;
        var sent = response.Headers.Date is { } date ? Instant.FromDateTimeOffset(date) : now;
        return Instant.FromDateTimeOffset(until) - sent;
    }

    private static string? Usable(string? header) =>
        !string.IsNullOrWhiteSpace(header) && header.Length <= 1000 && header.All(letter => letter is >= ' ' and <= '~') ? header : null;
}
