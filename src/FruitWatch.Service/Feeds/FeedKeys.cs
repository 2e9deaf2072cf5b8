using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;

namespace FruitWatch.Service.Feeds;

/// <summary>The keys that providers gave, as they are kept: sealed with the service's own keys, so that a copy of the store gives none away.</summary>
internal sealed class FeedKeys(IDataProtectionProvider protection)
{
    private readonly IDataProtector protector = protection.CreateProtector("FeedKey.v1");

    /// <summary>A provider's key as it may be kept.</summary>
    public string Seal(string key) => protector.Protect(key);

    /// <summary>
    /// The key again; null where there is none, or where it was sealed with keys that the service no longer has. Then the feed cannot
    /// be asked until the key is entered anew.
    /// </summary>
    public string? Open(string? sealedKey)
    {
        if (sealedKey is null)
            return null;
        try
        {
            return protector.Unprotect(sealedKey);
        }
        catch (CryptographicException)
        {
            return null;
        }
    }
}
