using FruitWatch.Store.Entities;
using FruitWatch.Store.Mapping;
using FruitWatch.Store.Postgres;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Queries;

/// <summary>
/// Handing out mails to senders. A mail is claimed for a time; a sender that dies gives it back when the time is over. Then a second
/// copy is possible, with the same Message-ID, and is preferred to a watering that nobody was told of. Senders send what they have
/// claimed in the order in which they got it.
/// </summary>
public static class Outbox
{
    /// <summary>Begins the last error of a mail that the relay may have taken at an earlier attempt.</summary>
    public const string InDoubt = "In doubt: ";

    /// <summary>The last error of a mail whose sender died while it was under way.</summary>
    public const string SenderStopped = InDoubt + "the sender stopped during the attempt.";

    // Whose claim ran out died. Only one of its mails was under way, and senders take them in this order: the first of those that it had
    // left. The others were not begun, and are in no doubt. Settled before a row is changed, since SQLite sees its own changes.
    private const string Pick = """
        WITH due AS MATERIALIZED (
            SELECT mail."Id", CASE WHEN mail."State" = 'sending' AND NOT EXISTS (
                SELECT 1 FROM "Outbox" AS earlier
                WHERE earlier."State" = 'sending' AND earlier."Owner" = mail."Owner"
                  AND (earlier."NotAfter" < mail."NotAfter" OR (earlier."NotAfter" = mail."NotAfter" AND earlier."Id" < mail."Id")))
                THEN {4} ELSE mail."LastError" END AS "Error"
            FROM "Outbox" AS mail
            WHERE mail."NotAfter" > {2}
              AND ((mail."State" = 'pending' AND mail."NextTryAt" <= {2}) OR (mail."State" = 'sending' AND mail."LeaseUntil" <= {2}))
            ORDER BY mail."NotAfter", mail."Id" LIMIT {3}
        """;

    private const string Take = """
        )
        UPDATE "Outbox" SET "State" = 'sending', "Owner" = {0}, "LeaseUntil" = {1}, "Attempts" = "Attempts" + 1, "LastError" = due."Error"
        FROM due WHERE "Outbox"."Id" = due."Id"
        """;

    private const string Claim = Pick + Take + " RETURNING *"; // SQLite has one writer at a time, and gives the rows alone
    private const string ClaimAmongOthers = Pick + " FOR UPDATE OF mail SKIP LOCKED" + Take + " RETURNING \"Outbox\".*";

    /// <summary>
    /// Claims up to <paramref name="count"/> mails that are due, the first to run out of time first, and counts an attempt for each.
    /// One statement: however many senders ask at once, each mail is given to one. One that a sender died over may have been taken by
    /// the relay, and is in doubt from then on.
    /// </summary>
    /// <param name="store">Where from.</param>
    /// <param name="owner">Who asks; another name for every sender.</param>
    /// <param name="now">The time.</param>
    /// <param name="lease">How long the claim holds.</param>
    /// <param name="count">How many at most.</param>
    /// <param name="cancellationToken">Stops it.</param>
    public static async Task<IReadOnlyList<OutgoingMail>> ClaimAsync(
        FruitWatchStore store, string owner, Instant now, Duration lease, int count, CancellationToken cancellationToken = default)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(lease, Duration.Zero);
        var claimed = await store.Outbox.FromSqlRaw(
            store is PostgresStore ? ClaimAmongOthers : Claim,
            owner,
            TimeColumns.ToColumn(now + lease),
            TimeColumns.ToColumn(now),
            count,
            SenderStopped).IgnoreQueryFilters().AsNoTracking().ToListAsync(cancellationToken);
        return [.. claimed.OrderBy(mail => mail.NotAfter).ThenBy(mail => mail.Id)];
    }

    /// <summary>Holds all claims of a sender for longer. Those that it has lost stay lost.</summary>
    /// <returns>How many it still holds.</returns>
    public static Task<int> ExtendAsync(
        FruitWatchStore store, string owner, Instant now, Duration lease, CancellationToken cancellationToken = default)
    {
        var until = now + lease;
        return store.Outbox
            .Where(mail => mail.Owner == owner && mail.State == MailState.Sending && mail.LeaseUntil > now)
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.LeaseUntil, until), cancellationToken);
    }

    /// <summary>Gives mails back that a sender has claimed but not begun, as it does when it is told to stop.</summary>
    /// <returns>How many were given back.</returns>
    public static Task<int> ReleaseAsync(
        FruitWatchStore store, string owner, IReadOnlyCollection<long> mailIds, CancellationToken cancellationToken = default)
    {
        var wanted = mailIds.ToArray();
        return store.Outbox
            .Where(mail => EF.Parameter(wanted).Contains(mail.Id) && mail.Owner == owner && mail.State == MailState.Sending)
            .ExecuteUpdateAsync(
                mail => mail.SetProperty(row => row.State, MailState.Pending)
                    .SetProperty(row => row.Attempts, row => row.Attempts - 1)
                    .SetProperty(row => row.Owner, (string?)null)
                    .SetProperty(row => row.LeaseUntil, (Instant?)null),
                cancellationToken);
    }

    /// <summary>The relay took it. That is a fact whoever holds the claim by now, so it is recorded in any case.</summary>
    /// <returns>False if it was recorded before.</returns>
    public static async Task<bool> MarkSentAsync(
        FruitWatchStore store, long mailId, Instant at, CancellationToken cancellationToken = default) =>
        await store.Outbox.Where(mail => mail.Id == mailId && mail.State != MailState.Sent)
            .ExecuteUpdateAsync(
                mail => mail.SetProperty(row => row.State, MailState.Sent)
                    .SetProperty(row => row.SentAt, at)
                    .SetProperty(row => row.Owner, (string?)null)
                    .SetProperty(row => row.LeaseUntil, (Instant?)null)
                    .SetProperty(row => row.LastError, (string?)null),
                cancellationToken) == 1;

    /// <summary>The attempt failed and may be tried again.</summary>
    /// <returns>False if the claim was lost meanwhile; then nothing is changed.</returns>
    public static Task<bool> RetryAsync(
        FruitWatchStore store, long mailId, string owner, Instant nextTryAt, string error, CancellationToken cancellationToken = default) =>
        CloseAsync(store, mailId, owner, MailState.Pending, nextTryAt, null, error, cancellationToken);

    /// <summary>It was refused for good.</summary>
    /// <returns>False if the claim was lost meanwhile; then nothing is changed.</returns>
    public static Task<bool> FailAsync(
        FruitWatchStore store, long mailId, string owner, string error, CancellationToken cancellationToken = default) =>
        CloseAsync(store, mailId, owner, MailState.Failed, null, null, error, cancellationToken);

    /// <summary>It may have been taken by the relay and is not tried again.</summary>
    /// <returns>False if the claim was lost meanwhile; then nothing is changed.</returns>
    public static Task<bool> MarkUnconfirmedAsync(
        FruitWatchStore store, long mailId, string owner, Instant at, string error, CancellationToken cancellationToken = default) =>
        CloseAsync(store, mailId, owner, MailState.Unconfirmed, null, at, error, cancellationToken);

    /// <summary>
    /// Ends the mails whose time has passed. One that waited is expired; one whose sender went away during the attempt may have been
    /// sent, and is unconfirmed.
    /// </summary>
    /// <returns>How many were ended.</returns>
    public static async Task<int> ExpireAsync(FruitWatchStore store, Instant now, CancellationToken cancellationToken = default)
    {
        var waiting = await store.Outbox
            .Where(mail => mail.State == MailState.Pending && mail.NotAfter <= now)
            .ExecuteUpdateAsync(mail => mail.SetProperty(row => row.State, MailState.Expired), cancellationToken);
        var cutShort = await store.Outbox
            .Where(mail => mail.State == MailState.Sending && mail.NotAfter <= now && mail.LeaseUntil <= now)
            .ExecuteUpdateAsync(
                mail => mail.SetProperty(row => row.State, MailState.Unconfirmed)
                    .SetProperty(row => row.Owner, (string?)null)
                    .SetProperty(row => row.LeaseUntil, (Instant?)null)
                    .SetProperty(row => row.LastError, InDoubt + "the sender stopped during the attempt, and the time for another has passed."),
                cancellationToken);
        return waiting + cutShort;
    }

    private static async Task<bool> CloseAsync(
        FruitWatchStore store, long mailId, string owner, MailState state, Instant? nextTryAt, Instant? sentAt, string error, CancellationToken cancellationToken) =>
        await store.Outbox.Where(mail => mail.Id == mailId && mail.Owner == owner && mail.State == MailState.Sending)
            .ExecuteUpdateAsync(
                mail => mail.SetProperty(row => row.State, state)
                    .SetProperty(row => row.NextTryAt, row => nextTryAt ?? row.NextTryAt)
                    .SetProperty(row => row.SentAt, sentAt)
                    .SetProperty(row => row.Owner, (string?)null)
                    .SetProperty(row => row.LeaseUntil, (Instant?)null)
                    .SetProperty(row => row.LastError, error),
                cancellationToken) == 1;
}
