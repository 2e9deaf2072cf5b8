using System.IO.Compression;

namespace FruitWatch.Service.Feeds;

/// <summary>An answer packed with gzip, as a draft keeps it.</summary>
internal static class PackedAnswer
{
    /// <summary>Longest that is kept, packed. [B]</summary>
    public const int Most = 4 * 1024 * 1024;

    /// <summary>The bytes packed; null where they are too many even so.</summary>
    public static byte[]? Pack(ReadOnlyMemory<byte> body)
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Fastest, leaveOpen: true))
            gzip.Write(body.Span);
        return packed.Length <= Most ? packed.ToArray() : null;
    }

    /// <summary>Unpacks what <see cref="Pack"/> made: bytes of our own, so that their length needs no limit.</summary>
    public static byte[] Unpack(byte[] packed)
    {
        using var gzip = new GZipStream(new MemoryStream(packed), CompressionMode.Decompress);
        using var body = new MemoryStream();
        gzip.CopyTo(body);
        return body.ToArray();
    }
}
