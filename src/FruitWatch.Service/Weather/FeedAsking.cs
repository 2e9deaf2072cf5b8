using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>A good answer, read for a site.</summary>
/// <param name="Reading">What it says.</param>
/// <param name="FetchedAt">When it came.</param>
/// <param name="CheckedAt">When the provider last said that nothing newer exists.</param>
/// <param name="Expires">Until when it says so.</param>
/// <param name="Notes">What was odd, in the transfer and in the answer.</param>
internal sealed record FeedAnswered(
    FeedReading Reading, Instant FetchedAt, Instant CheckedAt, Instant? Expires, IReadOnlyList<FeedProblem> Notes)
{
    /// <summary>What discovery steps found.</summary>
    public FeedCaptures? Captures { get; init; }
}

/// <summary>
/// Gets a feed's answer for a site: the kept one while it is fresh, whoever asked for it; otherwise a new one, with what the provider
/// needs to say that nothing has changed. A new answer replaces the kept one once it was read without a complaint.
/// </summary>
internal sealed class FeedAsking(FeedClient client, IClock clock)
{
    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web);

    // One request at a time for a place: who waits here finds the answer kept. Places share gates; more would only take room.
    private readonly SemaphoreSlim[] gates = [.. Enumerable.Range(0, 64).Select(_ => new SemaphoreSlim(1))];

    /// <summary>A good answer, or why there is none.</summary>
    /// <param name="store">Where answers are kept.</param>
    /// <param name="at">Which feed, for which site.</param>
    /// <param name="first">First day wanted.</param>
    /// <param name="now">Asks even where the kept answer is fresh.</param>
    /// <param name="beforeAsking">Runs before anything is sent.</param>
    /// <param name="stop">Stops it.</param>
    public async Task<(FeedAnswered? Answer, FeedTrouble? Trouble)> AskAsync(
        FruitWatchStore store, FeedAtSite at, LocalDate first, bool now, Func<Task>? beforeAsking, CancellationToken stop)
    {
        FetchedFeed? fetched = null;
        try
        {
            if (at.Description.IsUpload)
            {
                fetched = await client.FetchAsync(at.Description, at.Place, at.Request(first), stop);
                return (Good(Read(at, fetched.Body, fetched.FetchedAt, first), fetched, fetched.FetchedAt), null);
            }

            var request = at.Request(at.Reach.WholeFile ? null : first);
            var addressed = client.AddressOf(at.Description, at.Place, request);
            var place = addressed.PlaceUrl is { } url ? StringComparer.Ordinal.GetHashCode(url) : at.Seed.GetHashCode();
            var gate = gates[(uint)place % gates.Length];
            await gate.WaitAsync(stop);
            try
            {
                var kept = await KeptAsync(store, at, addressed, first, stop);
                if (kept is { } fresh && !now && FeedTimes.IsFresh(fresh.Row, at.Description.Refresh, clock.GetCurrentInstant()))
                    return (fresh.Answered(at), null);
                if (beforeAsking is not null)
                    await beforeAsking();
                for (var other = false; ; other = true)
                {
                    var asked = other ? request with { AlternativeAccept = true } : request with { IfChanged = kept?.Validators };
                    fetched = await client.FetchAsync(at.Description, at.Place, asked, stop);
                    try
                    {
                        return (await KeepAsync(store, at, first, fetched, kept, stop), null);
                    }
                    catch (FeedException stale) when (stale.Code == FeedCodes.TimeStale && !other)
                    {
                        // Some services hold an old copy for one way of asking only.
                    }
                }
            }
            finally
            {
                gate.Release();
            }
        }
        catch (FeedException refusal)
        {
            var evidence = fetched is { NotModified: false } seen && !at.Description.IsUpload ? FeedEvidence.Of(seen, at.Key) : null;
            return (null, FeedTrouble.Of(refusal, evidence));
        }
    }

    private static async Task<FeedAnswered> KeepAsync(
        FruitWatchStore store, FeedAtSite at, LocalDate first, FetchedFeed fetched, Kept? kept, CancellationToken stop)
    {
        if (fetched.NotModified && kept is { } same)
        {
            same.Row.CheckedAt = fetched.FetchedAt;
            same.Row.Expires = fetched.Expires;
            // Read again, for a forecast ages even where nothing has changed; only what is still good counts as checked.
            var answered = new Kept(same.Row, Read(at, same.Body, same.Row.FetchedAt, first), same.Body).Answered(at);
            await store.KeepAnswerAsync(same.Row, stop);
            return answered with { Captures = fetched.Captures ?? at.Captures };
        }

        var reading = Read(at, fetched.Body, fetched.FetchedAt, first);
        await store.KeepAnswerAsync(
            new FeedAnswer
            {
                FeedId = at.Feed.Id,
                Place = fetched.PlaceUrl,
                Asked = fetched.Url,
                MediaType = fetched.MediaType,
                Body = FeedAnswers.Pack(fetched.Body),
                Length = fetched.Body.Length,
                FetchedAt = fetched.FetchedAt,
                CheckedAt = fetched.FetchedAt,
                Expires = fetched.Expires,
                Etag = fetched.Validators.Etag,
                LastModified = fetched.Validators.LastModified,
                Notes = fetched.Notes.Count > 0 ? JsonSerializer.Serialize(fetched.Notes, s_json) : null,
            },
            stop);
        return Good(reading, fetched, fetched.FetchedAt);
    }

    /// <summary>The kept answer, where it was asked for in the same words and can still be read.</summary>
    private static async Task<Kept?> KeptAsync(
        FruitWatchStore store, FeedAtSite at, FeedAddressed addressed, LocalDate first, CancellationToken stop)
    {
        if (addressed.Url is not { } url || addressed.PlaceUrl is not { } place)
            return null;
        var row = await store.FeedAnswers.AsNoTracking().SingleOrDefaultAsync(
            answer => answer.FeedId == at.Feed.Id && answer.Place == place && answer.Asked == url && answer.Body != null, stop);
        if (row is null)
            return null;
        try
        {
            var body = FeedAnswers.Unpack(row.Body!, row.Length);
            return new Kept(row, Read(at, body, row.FetchedAt, first), body);
        }
        catch (FeedException)
        {
            // The description or the day has changed since, and the answer no longer does.
            return null;
        }
    }

    private static FeedReading Read(FeedAtSite at, ReadOnlyMemory<byte> body, Instant fetchedAt, LocalDate first) =>
        FeedReader.Read(at.Description, body, at.Place, at.Today, fetchedAt, first);

    private static FeedAnswered Good(FeedReading reading, FetchedFeed fetched, Instant checkedAt) =>
        new(reading, fetched.FetchedAt, checkedAt, fetched.Expires, [.. fetched.Notes, .. reading.Notes]) { Captures = fetched.Captures };

    private sealed record Kept(FeedAnswer Row, FeedReading Reading, ReadOnlyMemory<byte> Body)
    {
        public FeedValidators Validators => new(Row.Etag, Row.LastModified);

        public FeedAnswered Answered(FeedAtSite at) => new(
            Reading,
            Row.FetchedAt,
            Row.CheckedAt,
            Row.Expires,
            [.. Row.Notes is { } notes ? JsonSerializer.Deserialize<List<FeedProblem>>(notes, s_json)! : [], .. Reading.Notes])
        {
            Captures = at.Captures,
        };
    }
}
