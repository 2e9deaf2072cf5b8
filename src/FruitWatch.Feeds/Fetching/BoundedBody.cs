using System.Buffers;
using System.IO.Compression;

namespace FruitWatch.Feeds.Fetching;

/// <summary>Reads a stream up to a limit, counting what comes out of it: a small packed body can unpack to gigabytes.</summary>
internal static class BoundedBody
{
    private const int Chunk = 81_920;

    /// <exception cref="FeedException">There is more than <paramref name="most"/>.</exception>
    public static async Task<byte[]> ReadAsync(Stream stream, int most, string place, CancellationToken cancellation)
    {
        using var body = new MemoryStream();
        var buffer = ArrayPool<byte>.Shared.Rent(Chunk);
        try
        {
            int read;
            while ((read = await stream.ReadAsync(buffer, cancellation)) > 0)
            {
                if (body.Length + read > most)
                    throw TooLarge(most, place);
                body.Write(buffer, 0, read);
            }
            return body.ToArray();
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(buffer);
        }
    }

    /// <summary>Unpacks a gzip file. Servers may have done so already, so its first bytes decide.</summary>
    public static async Task<byte[]> UnpackAsync(byte[] body, int most, string place, CancellationToken cancellation)
    {
        if (body is not [0x1F, 0x8B, ..])
            return body;
        try
        {
            await using var unpacked = new GZipStream(new MemoryStream(body), CompressionMode.Decompress);
            return await ReadAsync(unpacked, most, place, cancellation);
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

    public static FeedException TooLarge(int most, string place) => new(
        FeedCodes.TooLarge, $"There is more than the {most} bytes the description allows.", place, "Ask for fewer days, or raise request.maxBytes.");
}
