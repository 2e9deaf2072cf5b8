using System.Globalization;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>What became of a failure that was reported.</summary>
internal enum Filed
{
    /// <summary>It was kept.</summary>
    New,

    /// <summary>It was kept, and the address is written to no more.</summary>
    Paused,

    /// <summary>It had been reported before.</summary>
    Known,

    /// <summary>It is not the mailbox that is at fault, which the log has as a warning.</summary>
    Elsewhere,

    /// <summary>The mail went to no member: it was about an account, and the log has a warning.</summary>
    NoMember,

    /// <summary>The mail is not kept any more.</summary>
    Gone,
}

/// <summary>
/// Keeps what came back, and stops writing to an address that does not take mail: after two mails that failed for good within 30 days,
/// or five that failed for now within 7. The cooperative's coordinators are told once.
/// </summary>
/// <remarks>
/// Only failures of the mailbox itself are kept; and none counts of an hour in which mail to many came back (<see cref="BounceStorm"/>): then
/// the log has a warning, and whoever was paused within the hour is written to again. Only mails written since the person's address, or its pause, was last changed are counted: whoever corrects the address or lets it be
/// tried again begins anew, and reports of older mails that come late pause nobody. When that was is known from the audit.
/// </remarks>
internal sealed class BounceFiling(StoreFactory stores, ServiceOptions options, IClock clock, ILogger<BounceFiling> log)
{
    /// <summary>Mails that failed for good until an address is paused.</summary>
    public const int PermanentMost = 2;

    /// <summary>Mails that failed for now until an address is paused.</summary>
    public const int TransientMost = 5;

    private const int LongestWhy = 300;

    private static readonly Duration s_permanentWithin = Duration.FromDays(30);
    private static readonly Duration s_transientWithin = Duration.FromDays(7);
    private static readonly Duration s_noteOfUse = Duration.FromDays(7);

    private readonly Lock door = new();
    private Instant? storm;

    /// <summary>Keeps the failure of a mail, once, and does what follows from it.</summary>
    public async Task<Filed> FileAsync(long mailId, DeliveryFailure failure, CancellationToken stop)
    {
        long cooperativeId;
        await using (var all = stores.CreateDbContext())
        {
            if (await all.Outbox.Where(row => row.Id == mailId).Select(row => new { row.Key, row.CooperativeId, row.PersonId }).SingleOrDefaultAsync(stop) is not { } found)
                return Filed.Gone;
            if (found is not { CooperativeId: { } itsCooperative, PersonId: not null })
            {
                log.LogWarning("Mail {Key}, which is no member's, came back: {Status}", OneLine.Of(found.Key, 100), failure.Status);
                return Filed.NoMember;
            }

            if (failure.Fault == Fault.Elsewhere)
            {
                log.LogWarning(
                    "Mail {Key} was not delivered, and not because of its address: {Status}. Look at the relay, the settings, and what others say of the domain.", OneLine.Of(found.Key, 100), failure.Status);
                return Filed.Elsewhere;
            }

            cooperativeId = itsCooperative;
        }

        var reach = new Reach();
        reach.Open(cooperativeId, "mail", clock);
        await using var store = stores.CreateDbContext(reach);
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        if (await store.Outbox.AsNoTracking().SingleOrDefaultAsync(row => row.Id == mailId, stop) is not { PersonId: { } personId } mail)
            return Filed.Gone;
        // Two reports at once are counted one after the other.
        await store.People.Where(row => row.Id == personId).ExecuteUpdateAsync(set => set.SetProperty(row => row.Version, row => row.Version), stop);
        if (await store.People.SingleOrDefaultAsync(row => row.Id == personId, stop) is not { } person)
            return Filed.Gone;
        var now = clock.GetCurrentInstant();
        var bounce = new Bounce
        {
            CooperativeId = cooperativeId,
            PersonId = personId,
            MailId = mailId,
            At = now,
            Permanent = failure.Fault == Fault.Mailbox,
            Status = failure.Status,
            Detail = failure.Detail,
        };
        if (!await store.AddIfNewAsync(bounce, stop))
            return Filed.Known;
        var pause = person.MailPausedAt is null && await IsEnoughAsync(store, person, stop);
        var stormy = pause && await BounceStorm.AroundAsync(store, now, stop);
        pause = pause && !stormy && await IsEnoughAsync(store, person, stop, calm: true);
        if (pause)
            await PauseAsync(store, person, failure, now, stop);
        await transaction.CommitAsync(stop);
        log.LogInformation(
            "Mail {Key} came back: {Status}{Then}", OneLine.Of(mail.Key, 100), failure.Status, pause ? "; its address is written to no more" : "");
        if (stormy)
            await CalmAsync(now, stop);
        return pause ? Filed.Paused : Filed.New;
    }

    /// <summary>Whether enough came back to pause an address.</summary>
    /// <param name="store">Within the member's cooperative.</param>
    /// <param name="person">Whose address.</param>
    /// <param name="stop">Stops it.</param>
    /// <param name="calm">Leaves out what came back while mail to many did.</param>
    private async Task<bool> IsEnoughAsync(FruitWatchStore store, Person person, CancellationToken stop, bool calm = false)
    {
        var now = clock.GetCurrentInstant();
        var since = now - s_permanentWithin;
        var begun = await BegunAsync(store, person, stop);
        var rows = await (
            from bounce in store.Bounces.AsNoTracking()
            join mail in store.Outbox on bounce.MailId equals mail.Id
            where bounce.PersonId == person.Id && bounce.At >= since && (begun == null || mail.CreatedAt >= begun)
            select new { bounce.Permanent, bounce.At, mail.ToAddress }).ToListAsync(stop);
        var counted = rows.FindAll(row => Person.Normalize(row.ToAddress) == person.EmailNormalized && (row.Permanent || row.At >= now - s_transientWithin));
        if (calm)
        {
            foreach (var at in counted.Select(row => row.At).Distinct().ToList())
            {
                if (await BounceStorm.AroundAsync(store, at, stop))
                    counted.RemoveAll(row => row.At == at);
            }
        }

        var permanent = counted.Count(row => row.Permanent);
        return permanent >= PermanentMost || counted.Count - permanent >= TransientMost;
    }

    /// <summary>Says once an hour that mail to many comes back, and takes back the pauses of those who came first.</summary>
    private async Task CalmAsync(Instant now, CancellationToken stop)
    {
        lock (door)
        {
            if (storm is not { } told || told <= now - BounceStorm.Within)
            {
                storm = now;
                log.LogWarning(
                    "Mail to {Least} members or more, and to every second one or more of those who were mailed, came back within an hour. Nobody's address is paused for that: look at the relay and the settings.",
                    BounceStorm.Least);
            }
        }

        var since = now - BounceStorm.Within;
        await using var all = stores.CreateDbContext();
        var paused = await all.People.AsNoTracking().Where(row => row.MailPausedAt >= since).Select(row => new { row.Id, row.CooperativeId }).ToListAsync(stop);
        foreach (var group in paused.GroupBy(row => row.CooperativeId, row => row.Id))
        {
            var reach = new Reach();
            reach.Open(group.Key, "mail", clock);
            await using var store = stores.CreateDbContext(reach);
            await using var transaction = await store.Database.BeginTransactionAsync(stop);
            var ids = group.ToArray();
            foreach (var person in await store.People.Where(row => ids.Contains(row.Id) && row.MailPausedAt >= since).ToListAsync(stop))
            {
                MailPause.End(person);
                await MailPause.TakeBackAsync(store, person.Id, now, stop);
            }

            await store.SaveChangesAsync(stop);
            await transaction.CommitAsync(stop);
        }
    }

    /// <summary>When the address, or its pause, was last changed.</summary>
    private static async Task<Instant?> BegunAsync(FruitWatchStore store, Person person, CancellationToken stop)
    {
        var key = person.Id.ToString(CultureInfo.InvariantCulture);
        return await store.Audit
            .Where(entry => (entry.Action == "person.changed" && entry.SubjectId == key
                    && (entry.Detail!.Contains("\"mailPausedAt\"") || entry.Detail.Contains("\"email\"")))
                || (entry.PersonId == person.Id
                    && (entry.Action == "address.changed" || entry.Action == "address.confirmed" || entry.Action == "invitation.accepted")))
            .MaxAsync(entry => (Instant?)entry.At, stop);
    }

    private async Task PauseAsync(FruitWatchStore store, Person person, DeliveryFailure failure, Instant now, CancellationToken stop)
    {
        person.MailPausedAt = now;
        person.MailPausedWhy = OneLine.Of(failure.Detail.StartsWith(failure.Status, StringComparison.Ordinal) ? failure.Detail : $"{failure.Status} {failure.Detail}", LongestWhy);
        await store.SaveChangesAsync(stop);
        await PausedMails.EndAsync(store, person.Id, now, stop);
        await TellAsync(store, person, now, stop);
    }

    private async Task TellAsync(FruitWatchStore store, Person paused, Instant now, CancellationToken stop)
    {
        var coordinators = await store.PeopleToTell().AsNoTracking()
            .Where(row => row.Role == Role.Coordinator && row.Id != paused.Id).OrderBy(row => row.Id).ToListAsync(stop);
        if (coordinators.Count == 0)
        {
            log.LogWarning("The address of person {Person} is written to no more, and there is no other coordinator to tell.", paused.Id);
            return;
        }

        var cooperative = await store.Cooperatives.Select(row => row.Name).SingleAsync(stop);
        foreach (var person in coordinators)
        {
            var written = PausedWriter.Write(paused, person, cooperative, options.BaseUrl, Words.For(person.Language, person.Units));
            var key = FormattableString.Invariant($"{MailPause.NotesAbout(paused.Id)}{now:uuuuMMdd'T'HHmmssffffff}:{person.Id}");
            await store.AddIfNewAsync(NewMail.To(person, key, written, options, now, now + s_noteOfUse), stop);
        }
    }
}
