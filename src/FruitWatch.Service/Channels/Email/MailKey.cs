using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// The key by which links in mails are known to be ours: drawn once, kept sealed in the store. A link is a few bytes and their
/// HMAC-SHA256, so that it is short enough for plain text, and the same however often a mail is made: a second attempt has equal bytes.
/// </summary>
/// <remarks>
/// One that cannot be read is kept and never replaced by itself: a server that was started with another certificate would end every link
/// of every mail that was ever sent.
/// </remarks>
internal sealed class MailKey(StoreFactory stores, IDataProtectionProvider protection)
{
    /// <summary>Key of its setting.</summary>
    public const string Row = "mail.key";

    /// <summary>What to do about one that cannot be read.</summary>
    public const string Unreadable =
        "The key of the links in mails (setting mail.key) was sealed with keys that this server cannot read. Give every server the certificate "
        + "with which the service was set up (FruitWatch:KeyCertificate). If that is lost for good, 'mail new-key' draws another one; the "
        + "links in mails that were sent, unsubscribing among them, then work no longer.";

    /// <summary>128 of the 256 bits: RFC 2104 section 5 allows half.</summary>
    private const int MacLength = 16;

    private readonly IDataProtector protector = protection.CreateProtector("MailKey.v1");
    private readonly Lock door = new();
    private byte[]? key;

    /// <summary>Has the key at hand. To be called before a transaction begins in which links are made: drawing it writes to the store.</summary>
    public void Prepare() => Key();

    /// <summary>Has it at hand if there is one, so that a start says what is wrong and not the first link.</summary>
    /// <exception cref="VerbException">There is one, and it cannot be read.</exception>
    public void Check()
    {
        lock (door)
            key ??= Read();
    }

    /// <summary>Draws another in the place of one that cannot be read.</summary>
    /// <returns>False where there is none, or it can be read: then nothing is changed.</returns>
    public bool Replace()
    {
        try
        {
            Check();
            return false;
        }
        catch (VerbException)
        {
            using var store = stores.CreateDbContext();
            store.Settings.Where(row => row.Key == Row).ExecuteDelete();
        }

        Prepare();
        return true;
    }

    /// <summary>What stands in an address.</summary>
    /// <param name="purpose">What the link is for; one made for another purpose is not known.</param>
    /// <param name="content">What it says; can be read by whoever has it.</param>
    public string Sign(string purpose, ReadOnlySpan<byte> content) => Base64Url.EncodeToString(Signed(purpose, content));

    /// <summary>The same for an address of mail: letters and digits only, which every relay on the way may turn into the other case.</summary>
    public string SignFolded(string purpose, ReadOnlySpan<byte> content) => Base32.Write(Signed(purpose, content));

    /// <summary>What a link says; null for one that is not ours, or was changed.</summary>
    public byte[]? Open(string purpose, string token)
    {
        if (token.Length > 200 || !Base64Url.IsValid(token, out var length) || length <= MacLength)
            return null;
        var bytes = Base64Url.DecodeFromChars(token);
        // The same bytes can be spelt in several ways; a link is ours as we spell it.
        return Content(purpose, bytes) is { } content && Base64Url.EncodeToString(bytes) == token ? content : null;
    }

    /// <summary>What the part of an address says that <see cref="SignFolded"/> made; null for one that is not ours, or was changed.</summary>
    public byte[]? OpenFolded(string purpose, string token) =>
        token.Length <= 200 && Base32.Read(token) is { Length: > MacLength } bytes ? Content(purpose, bytes) : null;

    private byte[] Signed(string purpose, ReadOnlySpan<byte> content)
    {
        var token = new byte[content.Length + MacLength];
        content.CopyTo(token);
        Mac(purpose, content, token.AsSpan(content.Length));
        return token;
    }

    private byte[]? Content(string purpose, ReadOnlySpan<byte> token)
    {
        var content = token[..^MacLength];
        Span<byte> mac = stackalloc byte[MacLength];
        Mac(purpose, content, mac);
        return CryptographicOperations.FixedTimeEquals(mac, token[^MacLength..]) ? content.ToArray() : null;
    }

    private void Mac(string purpose, ReadOnlySpan<byte> content, Span<byte> mac)
    {
        Span<byte> whole = stackalloc byte[HMACSHA256.HashSizeInBytes];
        HMACSHA256.HashData(Key(), [.. Encoding.ASCII.GetBytes(purpose), 0, .. content], whole);
        whole[..MacLength].CopyTo(mac);
    }

    private byte[] Key()
    {
        lock (door)
            return key ??= Read() ?? Draw();
    }

    private byte[]? Read()
    {
        using var store = stores.CreateDbContext();
        if (store.Settings.AsNoTracking().SingleOrDefault(row => row.Key == Row)?.Value is not { } kept)
            return null;
        try
        {
            return Convert.FromBase64String(protector.Unprotect(kept));
        }
        catch (CryptographicException)
        {
            throw new VerbException(Unreadable);
        }
    }

    private byte[] Draw()
    {
        using var store = stores.CreateDbContext();
        store.AddIfNew(new Setting { Key = Row, Value = protector.Protect(Convert.ToBase64String(RandomNumberGenerator.GetBytes(32))) });
        // Another server may have been quicker.
        return Read() ?? throw new InvalidOperationException("The key of links in mails could not be kept.");
    }
}
