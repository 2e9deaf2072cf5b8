using FruitWatch.Store.Entities;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>
/// Envelope senders: one for each mail, so that whatever comes back says which mail it is about (VERP). The key of the mail stands in it
/// signed, so that nobody can report a mail that they never had.
/// </summary>
internal sealed class ReturnPaths(MailOptions options, MailKey key)
{
    private const string Purpose = "bounce.v1";

    /// <summary>The envelope sender of a mail.</summary>
    public MailboxAddress Of(OutgoingMail mail) => new("", options.Bounces.Wanted ? Signed.Of(Purpose, mail.Id) : options.FromAddress.Trim());

    /// <summary>The mail whose envelope sender an address is; null where it is none of ours.</summary>
    public long? MailOf(string address) => options.Bounces.Wanted ? Signed.NumberIn(Purpose, address) : null;

    private SignedAddress Signed => new(options.Bounces.Address!, key);
}
