using FruitWatch.Store.Entities;
using MimeKit;

namespace FruitWatch.Service.Channels.Email;

/// <summary>A way out for mails: a relay, or a folder where none is configured. Used by one sender at a time.</summary>
internal interface IMailRoute : IAsyncDisposable
{
    /// <summary>Sends one message. What goes wrong with the mail or the way is an answer; only a fault of the program throws.</summary>
    Task<Delivery> DeliverAsync(OutgoingMail mail, MimeMessage message, CancellationToken limit);
}

/// <summary>What became of one attempt.</summary>
/// <param name="Outcome">Where that leaves the mail.</param>
/// <param name="Detail">What the relay said or what failed, on one line, for the delivery list. May hold the recipient's address, so it is not logged.</param>
/// <param name="Code">The relay's reply code, where there is one; may be logged.</param>
internal sealed record Delivery(Outcome Outcome, string Detail = "", int? Code = null)
{
    /// <summary>It was the recipient that was refused for good, for whatever reason, which a report would have said as well.</summary>
    public bool OfRecipient { get; init; }
}

/// <summary>Where an attempt leaves a mail.</summary>
internal enum Outcome
{
    /// <summary>Taken by the relay, or written.</summary>
    Sent,

    /// <summary>Refused for good.</summary>
    Refused,

    /// <summary>Surely not taken; worth another attempt.</summary>
    Later,

    /// <summary>The connection broke after the message had begun to leave: taken or not, nobody can say.</summary>
    Unconfirmed,

    /// <summary>The way itself is closed; the mail was not begun, and the next one would fare no better.</summary>
    RouteClosed,
}
