using System.Buffers.Binary;
using System.Globalization;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>
/// Addresses within one mailbox that say what they are for: <c>bounces+token@example.org</c>. In the token stands a number, signed, so that
/// nobody can make one up; in letters and digits, because relays may change the case on the way.
/// </summary>
/// <param name="mailbox">The address of the mailbox.</param>
/// <param name="key">Signs.</param>
internal sealed class SignedAddress(string mailbox, MailKey key)
{
    private const char Mark = '+';

    private static readonly IdnMapping s_names = new();

    /// <summary>How all of them begin.</summary>
    public static string BeginningOf(string mailbox) => Parts(mailbox).Local + Mark;

    /// <summary>The address for a number.</summary>
    /// <param name="purpose">What it is for; one made for another purpose is not known.</param>
    /// <param name="number">Not negative.</param>
    public string Of(string purpose, long number)
    {
        Span<byte> bytes = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64BigEndian(bytes, number);
        var (local, domain) = Parts(mailbox);
        return $"{local}{Mark}{key.SignFolded(purpose, bytes.TrimStart((byte)0))}@{domain}";
    }

    /// <summary>The number in an address; null where it is none of ours.</summary>
    public long? NumberIn(string purpose, string address)
    {
        var (local, domain) = Parts(mailbox);
        var (itsLocal, itsDomain) = Parts(address);
        if (!Ascii(itsDomain).Equals(Ascii(domain), StringComparison.OrdinalIgnoreCase)
            || itsLocal.Length <= local.Length
            || itsLocal[local.Length] != Mark
            || !itsLocal.StartsWith(local, StringComparison.OrdinalIgnoreCase)
            || key.OpenFolded(purpose, itsLocal[(local.Length + 1)..]) is not { Length: > 0 and <= sizeof(long) } number)
            return null;
        Span<byte> whole = stackalloc byte[sizeof(long)];
        whole.Clear();
        number.CopyTo(whole[^number.Length..]);
        return BinaryPrimitives.ReadInt64BigEndian(whole);
    }

    /// <summary>An address in the letters that every mail program can write to: its domain in the form of RFC 5891 section 4.4.</summary>
    public static string Plain(string address)
    {
        var (local, domain) = Parts(address);
        return $"{local}@{Ascii(domain)}";
    }

    private static string Ascii(string domain)
    {
        try
        {
            return System.Text.Ascii.IsValid(domain) ? domain : s_names.GetAscii(domain);
        }
        catch (ArgumentException)
        {
            return domain; // somebody's, and none that there can be
        }
    }

    private static (string Local, string Domain) Parts(string address)
    {
        var text = address.Trim();
        var at = text.LastIndexOf('@');
        return at < 0 ? (text, "") : (text[..at], text[(at + 1)..]);
    }
}
