using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.DataProtection;

namespace FruitWatch.Service.Webhooks;

/// <summary>The secrets that deliveries are signed with: drawn, kept sealed, and used (Standard Webhooks 1.0.0, "Signature scheme").</summary>
internal sealed class WebhookKeys(IDataProtectionProvider protection)
{
    /// <summary>By which a receiver's library knows what it was given.</summary>
    private const string Prefix = "whsec_";

    /// <summary>Length of the key. [B] The standard asks for 24 to 64.</summary>
    private const int Length = 32;

    private readonly IDataProtector protector = protection.CreateProtector("Webhook.v1");

    /// <summary>A new secret as it is shown once.</summary>
    public static string Draw() => Prefix + Convert.ToBase64String(RandomNumberGenerator.GetBytes(Length));

    /// <summary>A signature as it stands in the header: <c>v1,</c> and the HMAC-SHA256 of identifier, time and body.</summary>
    /// <param name="secret">The secret as it was shown.</param>
    /// <param name="messageId">The <c>webhook-id</c>.</param>
    /// <param name="timestamp">The <c>webhook-timestamp</c>. [s] since 1970</param>
    /// <param name="body">The body as it is sent.</param>
    public static string Sign(string secret, string messageId, long timestamp, string body) =>
        "v1," + Convert.ToBase64String(HMACSHA256.HashData(
            Convert.FromBase64String(secret[Prefix.Length..]),
            Encoding.UTF8.GetBytes(FormattableString.Invariant($"{messageId}.{timestamp}.{body}"))));

    /// <summary>A secret as it may be kept.</summary>
    public string Seal(string secret) => protector.Protect(secret);

    /// <summary>The secret again; null where it was sealed with keys that the service no longer has.</summary>
    public string? Open(string? kept)
    {
        if (kept is null)
            return null;
        try
        {
            return protector.Unprotect(kept);
        }
        catch (CryptographicException)
        {
            return null;
        }
    }
}
