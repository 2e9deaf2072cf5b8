using System.Buffers.Binary;
using FruitWatch.Store.Entities;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>
/// Envelope senders: one for each mail, so that whatever comes back says which mail it is about (VERP). The key of the mail stands in it
/// signed, so that nobody can report a mail that they never had; in letters and digits, because relays may change the case on the way.
/// </summary>
internal sealed class ReturnPaths(MailOptions options, MailKey key)
{
    private const string Purpose = "bounce.v1";
    private const char Mark = '+';

    /// <summary>The envelope sender of a mail.</summary>
    public MailboxAddress Of(OutgoingMail mail)
    {
        if (!options.Bounces.Wanted)
            return new MailboxAddress("", options.FromAddress.Trim());
        Span<byte> id = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64BigEndian(id, mail.Id);
        var (local, domain) = Parts(options.Bounces.Address!);
        return new MailboxAddress("", $"{local}{Mark}{key.SignFolded(Purpose, id.TrimStart((byte)0))}@{domain}");
    }

    /// <summary>The mail whose envelope sender an address is; null where it is none of ours.</summary>
    public long? MailOf(string address)
    {
        if (!options.Bounces.Wanted)
            return null;
        var (local, domain) = Parts(options.Bounces.Address!);
        var (itsLocal, itsDomain) = Parts(address);
        if (!itsDomain.Equals(domain, StringComparison.OrdinalIgnoreCase)
            || itsLocal.Length <= local.Length
            || itsLocal[local.Length] != Mark
            || !itsLocal.StartsWith(local, StringComparison.OrdinalIgnoreCase)
            || key.OpenFolded(Purpose, itsLocal[(local.Length + 1)..]) is not { Length: > 0 and <= sizeof(long) } id)
            return null;
        Span<byte> whole = stackalloc byte[sizeof(long)];
        whole.Clear();
        id.CopyTo(whole[^id.Length..]);
        return BinaryPrimitives.ReadInt64BigEndian(whole);
    }

    private static (string Local, string Domain) Parts(string address)
    {
        var text = address.Trim();
        var at = text.LastIndexOf('@');
        return at < 0 ? (text, "") : (text[..at], text[(at + 1)..]);
    }
}
