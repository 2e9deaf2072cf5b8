using FruitWatch.Store;
using MailKit;
using MailKit.Security;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>What was found in the mailbox.</summary>
/// <param name="Failures">Reports that a mail failed.</param>
/// <param name="Others">Further reports on mails of ours: late, delivered, or failed for another reason than the address; and whoever unsubscribes and is no member any more.</param>
/// <param name="Left">Messages that are neither reports on mails of ours nor unsubscribe anybody, and stay.</param>
internal sealed record BounceRun(int Failures, int Others, int Left)
{
    public static readonly BounceRun Nothing = new(0, 0, 0);

    /// <summary>Messages that unsubscribed somebody.</summary>
    public int Stopped { get; init; }

    /// <summary>Why the mailbox could not be read, see <see cref="MailTroubles"/>; null where it could.</summary>
    public string? Problem { get; init; }
}

/// <summary>Reads the mailbox of bounces. May run twice or beside itself: a mail bounces once.</summary>
internal sealed class BounceRound(StoreFactory stores, MailOptions options, BounceIntake intake, IClock clock, ILogger<BounceRound> log)
{
    private readonly LeftMessages left = new();

    /// <summary>How many are taken in one go. For tests.</summary>
    internal int AtOnce { get; set; } = 200;

    public async Task<BounceRun> RunAsync(CancellationToken stop)
    {
        var run = options.Bounces.HasMailbox ? await ReadAsync(stop) : BounceRun.Nothing;
        await using var store = stores.CreateDbContext();
        await MailTroubles.NoteAsync(store, MailTroubles.Mailbox, run.Problem, clock.GetCurrentInstant(), stop);
        return run;
    }

    private async Task<BounceRun> ReadAsync(CancellationToken stop)
    {
        var run = BounceRun.Nothing;
        IReportBox box = options.Bounces.IsPop3 ? new Pop3Box(options.Bounces, options.Timeout) : new ImapBox(options.Bounces, options.Timeout);
        try
        {
            var look = new BoxLook(
                AtOnce,
                left,
                async message =>
                {
                    switch (await intake.TakeAsync(message, null, stop))
                    {
                        case Taken.Failure:
                            run = run with { Failures = run.Failures + 1 };
                            return true;
                        case Taken.Stopped:
                            run = run with { Stopped = run.Stopped + 1 };
                            return true;
                        case Taken.NoReport or Taken.Foreign:
                            // Nobody has seen it: the operator may send from the same domain by other means.
                            return false;
                        default:
                            run = run with { Others = run.Others + 1 };
                            return true;
                    }
                },
                log);
            var stays = await box.EmptyAsync(look, stop);
            run = run with { Left = stays };
            if (look.Failing)
                run = run with { Problem = "What came back could not be kept." };
        }
        catch (Exception closed) when (!stop.IsCancellationRequested
            && (SmtpRoute.IsBroken(closed) || closed is ProtocolException or CommandException or AuthenticationException or NotSupportedException or FormatException))
        {
            run = run with { Problem = OneLine.Of($"{closed.GetType().Name}: {closed.Message}", 300) };
            log.LogWarning("The mailbox of bounces cannot be read: {Problem}", run.Problem);
            return run;
        }

        if (run.Failures + run.Others + run.Stopped + run.Left > 0)
        {
            log.LogInformation(
                "Mailbox of bounces: {Failures} mails that came back, {Others} other reports, {Stopped} unsubscribed, {Left} messages left", run.Failures, run.Others, run.Stopped, run.Left);
        }

        return run;
    }
}
