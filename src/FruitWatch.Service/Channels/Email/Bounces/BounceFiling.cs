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

    /// <summary>The mail is not kept any more, or went to no member.</summary>
    Nobody,
}

/// <summary>
/// Keeps what came back, and stops writing to an address that does not take mail: after two mails that failed for good within 30 days,
/// or five that failed for now within 7. The cooperative's coordinators are told once.
/// </summary>
/// <remarks>
/// Only mails written since the person's address, or its pause, was last changed are counted: whoever corrects the address or lets it be
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

    /// <summary>Keeps the failure of a mail, once, and does what follows from it.</summary>
    public async Task<Filed> FileAsync(long mailId, DeliveryFailure failure, CancellationToken stop)
    {
        long cooperativeId;
        await using (var all = stores.CreateDbContext())
        {
            if (await all.Outbox.Where(row => row.Id == mailId && row.PersonId != null).Select(row => row.CooperativeId).SingleOrDefaultAsync(stop) is not { } found)
                return Filed.Nobody;
            cooperativeId = found;
        }

        var reach = new Reach();
        reach.Open(cooperativeId, "mail", clock);
        await using var store = stores.CreateDbContext(reach);
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        if (await store.Outbox.AsNoTracking().SingleOrDefaultAsync(row => row.Id == mailId, stop) is not { PersonId: { } personId } mail)
            return Filed.Nobody;
        // Two reports at once are counted one after the other.
        await store.People.Where(row => row.Id == personId).ExecuteUpdateAsync(set => set.SetProperty(row => row.Version, row => row.Version), stop);
        if (await store.People.SingleOrDefaultAsync(row => row.Id == personId, stop) is not { } person)
            return Filed.Nobody;
        var now = clock.GetCurrentInstant();
        var bounce = new Bounce
        {
            CooperativeId = cooperativeId,
            PersonId = personId,
            MailId = mailId,
            At = now,
            Permanent = failure.Permanent,
            Status = failure.Status,
            Detail = failure.Detail,
        };
        if (!await store.AddIfNewAsync(bounce, stop))
            return Filed.Known;
        var pause = person.MailPausedAt is null && await IsEnoughAsync(store, person, now, stop);
        if (pause)
            await PauseAsync(store, person, failure, now, stop);
        await transaction.CommitAsync(stop);
        log.LogInformation(
            "Mail {Key} came back: {Status}{Then}", OneLine.Of(mail.Key, 100), failure.Status, pause ? "; its address is written to no more" : "");
        return pause ? Filed.Paused : Filed.New;
    }

    private static async Task<bool> IsEnoughAsync(FruitWatchStore store, Person person, Instant now, CancellationToken stop)
    {
        var since = now - s_permanentWithin;
        var begun = await BegunAsync(store, person, stop);
        var rows = await (
            from bounce in store.Bounces.AsNoTracking()
            join mail in store.Outbox on bounce.MailId equals mail.Id
            where bounce.PersonId == person.Id && bounce.At >= since && (begun == null || mail.CreatedAt >= begun)
            select new { bounce.Permanent, bounce.At, mail.ToAddress }).ToListAsync(stop);
        var counted = rows.FindAll(row => Person.Normalize(row.ToAddress) == person.EmailNormalized);
        return counted.Count(row => row.Permanent) >= PermanentMost
            || counted.Count(row => !row.Permanent && row.At >= now - s_transientWithin) >= TransientMost;
    }

    /// <summary>When the address, or its pause, was last changed.</summary>
    private static async Task<Instant?> BegunAsync(FruitWatchStore store, Person person, CancellationToken stop)
    {
        var key = person.Id.ToString(CultureInfo.InvariantCulture);
        return await store.Audit
            .Where(entry => entry.Action == "person.changed" && entry.SubjectId == key
                && (entry.Detail!.Contains("\"mailPausedAt\"") || entry.Detail.Contains("\"email\"")))
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
            var key = FormattableString.Invariant($"address-paused:{paused.Id}:{now:uuuuMMdd'T'HHmmssffffff}:{person.Id}");
            await store.AddIfNewAsync(NewMail.To(person, key, written, options, now, now + s_noteOfUse), stop);
        }
    }
}
