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

    /// <summary>A report about a mail of ours that went to no member, or is not kept any more.</summary>
    NoMember,

    /// <summary>A report about no mail of ours.</summary>
    Foreign,

    /// <summary>Not a report: an automatic answer, or a person's.</summary>
    NoReport,
}

/// <summary>Takes in what comes to the address of bounces, from a mailbox or over the web.</summary>
internal sealed class BounceIntake(ReturnPaths returns, BounceFiling filing)
{
    /// <summary>Longer ones are not read: a report quotes a mail of ours at most.</summary>
    public const int LongestMessage = 1 << 20;

    /// <summary>Reads it and keeps what it says. When this returns, the message is needed no more.</summary>
    /// <param name="message">What came.</param>
    /// <param name="envelope">Where it came to, where that is known from outside.</param>
    /// <param name="stop">Stops it.</param>
    public async Task<Taken> TakeAsync(MimeMessage message, string? envelope, CancellationToken stop)
    {
        // The token first: nothing else of what anybody may have written is read without one.
        var addresses = DeliveryReport.Addresses(message);
        if ((envelope is null ? addresses : [envelope, .. addresses]).Select(returns.MailOf).FirstOrDefault(found => found is not null) is not { } mail)
            return DeliveryReport.Is(message) ? Taken.Foreign : Taken.NoReport;
        var report = DeliveryReport.Of(message);
        if (!report.IsReport)
            return Taken.NoReport;
        if (report.Failure is not { } failure)
            return Taken.NoFailure;
        return await filing.FileAsync(mail, failure, stop) switch
        {
            Filed.Elsewhere => Taken.Elsewhere,
            Filed.NoMember or Filed.Gone => Taken.NoMember,
            _ => Taken.Failure,
        };
    }
}
