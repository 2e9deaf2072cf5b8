using System.IO.Compression;

namespace FruitWatch.Service.Feeds;

/// <summary>The answer of a draft, unpacked again.</summary>
internal static class PackedAnswer
{
    /// <summary>Unpacks what was packed here: bytes of our own, whose length was bounded when they came.</summary>
    public static byte[] Unpack(byte[] packed)
    {
        using var gzip = new GZipStream(new MemoryStream(packed), CompressionMode.Decompress);
        using var body = new MemoryStream();
        gzip.CopyTo(body);
        return body.ToArray();
    }
}
