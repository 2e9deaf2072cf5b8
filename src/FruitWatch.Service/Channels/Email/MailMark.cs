using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using NodaTime;

namespace FruitWatch.Service.Channels.Email;

/// <summary>How a mail is to be marked after an attempt.</summary>
/// <param name="State">Pending stands for: to be tried again.</param>
/// <param name="Error">What to show in the delivery list; empty after a good attempt.</param>
internal sealed record MailMark(MailState State, string Error)
{
    /// <summary>Begins the last error of a mail that the relay may have taken at an earlier attempt.</summary>
    public const string InDoubt = Outbox.InDoubt;

    /// <summary>
    /// One copy too many is better than a watering that nobody was told of, but only one: a mail whose connection broke after the
    /// content, or whose sender died, is sent once more under the same Message-ID. Refused or broken off again it stays unconfirmed.
    /// </summary>
    public static MailMark After(OutgoingMail mail, Delivery delivery, Instant nextTry)
    {
        var inDoubt = mail.LastError?.StartsWith(InDoubt, StringComparison.Ordinal) == true;
        var error = inDoubt || delivery.Outcome == Outcome.Unconfirmed ? InDoubt + delivery.Detail : delivery.Detail;
        return new MailMark(
            delivery.Outcome switch
            {
                Outcome.Sent => MailState.Sent,
                Outcome.Refused => inDoubt ? MailState.Unconfirmed : MailState.Failed,
                Outcome.Unconfirmed when inDoubt || nextTry >= mail.NotAfter => MailState.Unconfirmed,
                _ => MailState.Pending,
            },
            error);
    }
}
