using FruitWatch.Service.Wishes;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>What a message came to.</summary>
internal enum Taken
{
    /// <summary>A mail that failed; kept now, or before.</summary>
    Failure,

    /// <summary>A report that says of a mail of ours that it is late, or arrived.</summary>
    NoFailure,

    /// <summary>A mail that failed, and not because of the mailbox that it went to.</summary>
    Elsewhere,

    /// <summary>A report about a mail of ours that went to no member, or is not kept any more; or somebody unsubscribes who is no member any more.</summary>
    NoMember,

    /// <summary>Somebody unsubscribes, and is left alone.</summary>
    Stopped,

    /// <summary>A report about no mail of ours.</summary>
    Foreign,

    /// <summary>Something else: an automatic answer, or a person's letter.</summary>
    NoReport,
}

/// <summary>Takes in what comes to the address of bounces, from a mailbox or over the web.</summary>
internal sealed class BounceIntake(ReturnPaths returns, BounceFiling filing, StopAddresses stops, StopBook book)
{
    /// <summary>Longer ones are not read: a report quotes a mail of ours at most.</summary>
    public const int LongestMessage = 1 << 20;

    /// <summary>Reads it and keeps what it says. When this returns, the message is needed no more.</summary>
    /// <param name="message">What came.</param>
    /// <param name="envelope">Where it came to, where that is known from outside.</param>
    /// <param name="stop">Stops it.</param>
    public async Task<Taken> TakeAsync(MimeMessage message, string? envelope, CancellationToken stop)
    {
        var addresses = DeliveryReport.Addresses(message);
        if (envelope is not null)
            addresses = [envelope, .. addresses];
        if (!DeliveryReport.Is(message))
            return await StopAsync(message, addresses, stop);
        // The token first: nothing of what anybody may have written is read without one.
        if (addresses.Select(returns.MailOf).FirstOrDefault(found => found is not null) is not { } mail)
            return Taken.Foreign;
        if (DeliveryReport.Of(message).Failure is not { } failure)
            return Taken.NoFailure;
        return await filing.FileAsync(mail, failure, stop) switch
        {
            Filed.Elsewhere => Taken.Elsewhere,
            Filed.NoMember or Filed.Gone => Taken.NoMember,
            _ => Taken.Failure,
        };
    }

    // Quietly, as by the link: an answer would be a mail to somebody who wants none (and RFC 3834 section 2).
    private async Task<Taken> StopAsync(MimeMessage message, IReadOnlyList<string> addresses, CancellationToken stop)
    {
        var links = addresses.Select(stops.Read).OfType<StopLink>().Distinct().ToList();
        if (links.Count == 0 || AutomaticMail.Is(message))
            return Taken.NoReport;
        var stopped = false;
        foreach (var link in links)
            stopped |= await book.StopAsync(link, stop) is not null;
        return stopped ? Taken.Stopped : Taken.NoMember;
    }
}
