using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace FruitWatch.Service.Access;

/// <summary>Secrets that are shown once and kept as a hash: long and drawn at random, so that a fast hash will do.</summary>
internal static class Secrets
{
    /// <summary>256 bits from the system's generator, in characters that an address may hold.</summary>
    public static string Draw() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));

    /// <summary>What is kept of it.</summary>
    public static string Hash(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    /// <summary>Whether a secret is the one that a hash was kept of; takes as long either way.</summary>
    public static bool Matches(string secret, string hash) =>
        CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(Hash(secret)), Encoding.ASCII.GetBytes(hash));
}
