using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Channels.Email.Signing;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// Empties the outbox: every due mail is claimed, sent, and marked with what became of it. Any number of senders may work at once, in
/// this process and in others; each mail is given to one of them.
/// </summary>
internal sealed class MailSender(
    StoreFactory stores,
    MailOptions options,
    MailSecrets secrets,
    ReturnPaths returns,
    DkimSigning signing,
    SendingTurn turns,
    MailPace pace,
    BounceFiling bounces,
    ServiceOptions service,
    IClock clock,
    ILogger<MailSender> log)
{
    private const int AtOnce = 20;

    /// <summary>Longest for one message, against a relay that answers every line just in time.</summary>
    private static readonly TimeSpan s_longestAttempt = TimeSpan.FromMinutes(2);

    /// <summary>What is left of an attempt when the program is told to stop.</summary>
    private static readonly TimeSpan s_toFinish = TimeSpan.FromSeconds(10);

    /// <summary>Longer than any attempt; a sender that dies gives its mails back by then.</summary>
    private readonly Duration lease = Duration.FromTimeSpan(options.Lease);

    /// <summary>Claims are renewed this often, so that none runs out before its mail is begun.</summary>
    private readonly Duration renewAfter = Duration.FromTimeSpan(options.Lease / 5);

    private static readonly Duration[] s_waits = [Duration.FromMinutes(5), Duration.FromMinutes(15), Duration.FromMinutes(60)];

    /// <summary>Sends all that is due now.</summary>
    /// <exception cref="OperationCanceledException">Stopped; the mail being sent was finished, and what was not begun was given back.</exception>
    public async Task<MailRun> SendDueAsync(CancellationToken stop)
    {
        using var turn = await turns.BeginAsync(stop);
        if (turn is null)
            return MailRun.Nothing;
        await using var store = stores.CreateDbContext();
        var run = await SendDueAsync(store, stop);
        // Where nothing was due nobody has tried the way.
        if (run.Problem is not null || run.Sent + run.Failed > 0)
            await MailTroubles.NoteAsync(store, MailTroubles.Route, run.Problem, clock.GetCurrentInstant(), stop);
        await MailTroubles.NoteAsync(store, MailTroubles.Allowance, run.HeldByAllowance ? "" : null, clock.GetCurrentInstant(), stop);
        return run;
    }

    private async Task<MailRun> SendDueAsync(FruitWatchStore store, CancellationToken stop)
    {
        var run = MailRun.Nothing with { Expired = await EndOverdueAsync(store, stop) };
        var owner = $"mail-{Guid.NewGuid():N}";
        await using IMailRoute route = options.HasRelay ? new SmtpRoute(options, returns) : new FolderRoute(service.MailFolder);
        while (true)
        {
            var room = options.HasRelay ? await AllowanceAsync(store, stop) : AtOnce;
            if (room <= 0)
                return run with { HeldByAllowance = await IsAnyDueAsync(store, stop) };
            // Not cut off in the middle: what was claimed and not heard of would be held until the claim runs out.
            stop.ThrowIfCancellationRequested();
            var batch = await Outbox.ClaimAsync(store, owner, clock.GetCurrentInstant(), lease, pace.AtOnce(Math.Min(room, AtOnce)), CancellationToken.None);
            if (batch.Count == 0)
                return run;
            run = await SendAsync(store, route, owner, batch, run, stop);
            if (run.Problem is { } problem)
            {
                log.LogWarning("Mails wait: {Problem}", problem);
                return run;
            }
        }
    }

    private async Task<MailRun> SendAsync(
        FruitWatchStore store, IMailRoute route, string owner, IReadOnlyList<OutgoingMail> batch, MailRun run, CancellationToken stop)
    {
        var renewed = clock.GetCurrentInstant();
        var begun = 0;
        try
        {
            foreach (var mail in batch)
            {
                stop.ThrowIfCancellationRequested();
                await pace.WaitAsync(stop);
                var now = clock.GetCurrentInstant();
                if (now - renewed >= renewAfter)
                {
                    // A claim that was lost belongs to another sender by now: give the others back and claim anew.
                    if (await Outbox.ExtendAsync(store, owner, now, lease, stop) < batch.Count - begun)
                        return run;
                    renewed = now;
                }

                var delivery = await DeliverAsync(route, mail, stop);
                if (delivery.Outcome == Outcome.RouteClosed)
                    return run with { Problem = delivery.Detail };
                begun++;
                run = await MarkAsync(store, owner, mail, delivery, run);
            }

            return run;
        }
        finally
        {
            if (begun < batch.Count)
                await Outbox.ReleaseAsync(store, owner, [.. batch.Skip(begun).Select(mail => mail.Id)], CancellationToken.None);
        }
    }

    private async Task<Delivery> DeliverAsync(IMailRoute route, OutgoingMail mail, CancellationToken stop)
    {
        using var limit = new CancellationTokenSource(s_longestAttempt);
        // Told to stop, the sender finishes what it has begun: cut off in the middle, nobody could say whether it arrived.
        await using var soon = stop.UnsafeRegister(_ => limit.CancelAfter(s_toFinish), null);
        try
        {
            using var message = MailMessage.Of(secrets.Open(mail), options);
            signing.Sign(message, mail.CreatedAt);
            return await route.DeliverAsync(mail, message, limit.Token);
        }
        catch (MailException unsendable)
        {
            return new Delivery(Outcome.Refused, unsendable.Message);
        }
    }

    private async Task<MailRun> MarkAsync(FruitWatchStore store, string owner, OutgoingMail mail, Delivery delivery, MailRun run)
    {
        var now = clock.GetCurrentInstant();
        var next = now + s_waits[Math.Min(mail.Attempts, s_waits.Length) - 1];
        var mark = MailMark.After(mail, delivery, next);
        // What has happened is recorded even while the program stops.
        var done = CancellationToken.None;
        switch (mark.State)
        {
            case MailState.Sent:
                await Outbox.MarkSentAsync(store, mail.Id, now, done);
                run = run with { Sent = run.Sent + 1 };
                break;
            case MailState.Failed:
                // First, so that a sender that dies between the two finds it refused once more and counts it once.
                if (delivery.OfRecipient)
                    await bounces.FileAsync(mail.Id, DeliveryFailure.OfReply(delivery.Detail), done);
                await Outbox.FailAsync(store, mail.Id, owner, mark.Error, done);
                run = run with { Failed = run.Failed + 1 };
                break;
            case MailState.Unconfirmed:
                await Outbox.MarkUnconfirmedAsync(store, mail.Id, owner, now, mark.Error, done);
                run = run with { Unconfirmed = run.Unconfirmed + 1 };
                break;
            default:
                await Outbox.RetryAsync(store, mail.Id, owner, next, mark.Error, done);
                run = run with { Later = run.Later + 1 };
                break;
        }

        if (mark.State != MailState.Pending)
            await FinishedMails.ForgetAsync(store, mail);
        log.LogInformation(
            "Mail {Key}: attempt {Attempt}, {Outcome} {Code}", OneLine.Of(mail.Key, 100), mail.Attempts, Word(delivery.Outcome), delivery.Code);
        return run;
    }

    private async Task<int> EndOverdueAsync(FruitWatchStore store, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        // One that may have been taken at its first attempt is not called expired: the person may have it.
        var doubtful = await store.Outbox
            .Where(mail => mail.State == MailState.Pending && mail.NotAfter <= now && mail.LastError!.StartsWith(MailMark.InDoubt))
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Unconfirmed), stop);
        var ended = doubtful + await Outbox.ExpireAsync(store, now, stop);
        await FinishedMails.ForgetEndedAsync(store, now, stop);
        return ended;
    }

    private async Task<int> AllowanceAsync(FruitWatchStore store, CancellationToken stop)
    {
        var since = clock.GetCurrentInstant() - Duration.FromHours(1);
        return options.PerHour - await store.Outbox.CountAsync(mail => mail.SentAt > since, stop);
    }

    private Task<bool> IsAnyDueAsync(FruitWatchStore store, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        return store.Outbox.AnyAsync(mail => mail.State == MailState.Pending && mail.NextTryAt <= now && mail.NotAfter > now, stop);
    }

    private static string Word(Outcome outcome) => outcome switch
    {
        Outcome.Sent => "sent",
        Outcome.Refused => "refused",
        Outcome.Unconfirmed => "unconfirmed",
        _ => "later",
    };
}
