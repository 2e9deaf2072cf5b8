using System.Buffers;
using System.IO.Compression;

namespace FruitWatch.Feeds.Fetching;

/// <summary>Reads a stream up to a limit, counting what comes out of it: a small packed body can unpack to gigabytes.</summary>
internal static class BoundedBody
{
    private const int Chunk = 81_920;

    /// <summary>Reads into <paramref name="body"/>, which keeps what had come if the stream breaks.</summary>
    /// <returns>Whether that was all; false where there is more than <paramref name="most"/>.</returns>
    public static async Task<bool> ReadAsync(Stream stream, int most, MemoryStream body, CancellationToken cancellation)
    {
        var buffer = ArrayPool<byte>.Shared.Rent(Chunk);
        try
        {
            int read;
            while ((read = await stream.ReadAsync(buffer, cancellation)) > 0)
            {
                var room = (int)Math.Min(read, most - body.Length);
                body.Write(buffer, 0, room);
                if (room < read)
                    return false;
            }
            return true;
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }
    }

    /// <exception cref="FeedException">There is more than <paramref name="most"/>.</exception>
    public static async Task<ReadOnlyMemory<byte>> ReadAllAsync(Stream stream, int most, string place, CancellationToken cancellation)
    {
        var body = new MemoryStream();
        return await ReadAsync(stream, most, body, cancellation) ? Of(body) : throw TooLarge(most, place);
    }

    /// <summary>Unpacks a gzip file. Servers may have done so already, so its first bytes decide.</summary>
    public static async Task<ReadOnlyMemory<byte>> UnpackAsync(ReadOnlyMemory<byte> body, int most, string place, CancellationToken cancellation)
    {
        if (!IsPacked(body))
            return body;
        try
        {
            await using var unpacked = new GZipStream(new MemoryStream(body.ToArray()), CompressionMode.Decompress);
            return await ReadAllAsync(unpacked, most, place, cancellation);
        }
        catch (InvalidDataException fault)
        {
            throw new FeedException(
                FeedCodes.CutShort,
                "The packed file cannot be unpacked; it may have been cut short.",
                place,
                "It will be asked for again.",
                fault);
        }
    }

    /// <summary>Whether it begins as gzip does, and as no text can.</summary>
    public static bool IsPacked(ReadOnlyMemory<byte> body) => body.Span is [0x1F, 0x8B, ..];

    /// <summary>What was read, without copying it.</summary>
    public static ReadOnlyMemory<byte> Of(MemoryStream body) => body.GetBuffer().AsMemory(0, (int)body.Length);

    public static FeedException TooLarge(int most, string place) => new(
        FeedCodes.TooLarge, $"There is more than the {most} bytes the description allows.", place, "Ask for fewer days, or raise request.maxBytes.");
}
