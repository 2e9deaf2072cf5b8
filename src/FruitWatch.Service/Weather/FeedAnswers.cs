using System.IO.Compression;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>An answer that is kept, unpacked.</summary>
/// <param name="Body">The bytes as they came.</param>
/// <param name="MediaType">Content type.</param>
/// <param name="Asked">The address as it was asked, without key.</param>
/// <param name="FetchedAt">When it came.</param>
/// <param name="CheckedAt">When the provider last said that nothing newer exists.</param>
internal sealed record KeptAnswer(ReadOnlyMemory<byte> Body, string MediaType, string Asked, Instant FetchedAt, Instant CheckedAt);

/// <summary>The last good answers, packed in the store.</summary>
internal static class FeedAnswers
{
    /// <summary>Longer bodies, packed, are not kept; then the next request asks for the whole again. [B]</summary>
    public const int MostBytes = 4 * 1024 * 1024;

    /// <summary>The last good answer of a feed, the latest where it was asked for several places; null where none is kept with its body.</summary>
    /// <param name="store">Where from.</param>
    /// <param name="feedId">The feed.</param>
    /// <param name="place">For this place only: the address with its dates left open.</param>
    /// <param name="stop">Stops it.</param>
    public static async Task<KeptAnswer?> ReadAsync(FruitWatchStore store, long feedId, string? place, CancellationToken stop)
    {
        var row = await store.FeedAnswers.AsNoTracking()
            .Where(answer => answer.FeedId == feedId && answer.Body != null && (place == null || answer.Place == place))
            .OrderByDescending(answer => answer.FetchedAt).ThenByDescending(answer => answer.Id).FirstOrDefaultAsync(stop);
        return row is null ? null : Unpack(row);
    }

    /// <summary>A row's answer; null where its body was too long to keep.</summary>
    public static KeptAnswer? Unpack(FeedAnswer row) =>
        row.Body is { } body ? new KeptAnswer(Unpack(body, row.Length), row.MediaType, row.Asked, row.FetchedAt, row.CheckedAt) : null;

    /// <summary>Packs a body; null where it stays too long.</summary>
    public static byte[]? Pack(ReadOnlyMemory<byte> body)
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Fastest, leaveOpen: true))
            gzip.Write(body.Span);
        return packed.Length <= MostBytes ? packed.ToArray() : null;
    }

    /// <summary>Unpacks a body of a known length.</summary>
    public static ReadOnlyMemory<byte> Unpack(byte[] packed, int length)
    {
        using var gzip = new GZipStream(new MemoryStream(packed), CompressionMode.Decompress);
        var body = new byte[length];
        gzip.ReadExactly(body);
        return body;
    }
}
