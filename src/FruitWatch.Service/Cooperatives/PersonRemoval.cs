using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Operating;
using FruitWatch.Service.People;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Cooperatives;

/// <summary>Why a person cannot be removed, or cannot become something else.</summary>
internal enum PersonRefusal
{
    /// <summary>Nobody would be left to answer for the cooperative.</summary>
    LastCoordinator,
}

/// <summary>
/// Removes a person truly: the row, own tokens, links and invitations, the mails to them and those about their address, the account where it opens nothing else.
/// Log entries stay, without who made them; the audit keeps the key and no name.
/// </summary>
internal sealed class PersonRemoval(FruitWatchStore store, StoreFactory stores, Visitor visitor, ServiceOptions options, Traces traces, IClock clock)
{
    /// <summary>Whether nobody else who is active is a coordinator. To be asked before a coordinator is removed, made inactive or given another role.</summary>
    public Task<bool> IsLastCoordinatorAsync(Person person, CancellationToken stop) => IsLastCoordinatorAsync(store, person, stop);

    /// <inheritdoc cref="IsLastCoordinatorAsync(Person, CancellationToken)"/>
    public static async Task<bool> IsLastCoordinatorAsync(FruitWatchStore store, Person person, CancellationToken stop) =>
        person is { Role: Role.Coordinator, Active: true }
        && !await store.People.AnyAsync(
            other => other.Id != person.Id && other.CooperativeId == person.CooperativeId && other.Active && other.Role == Role.Coordinator, stop);

    /// <summary>Holds two changes of a cooperative's coordinators apart, until the transaction ends.</summary>
    public static Task HoldAsync(FruitWatchStore store, long cooperativeId, CancellationToken stop) =>
        store.Cooperatives.Where(row => row.Id == cooperativeId).ExecuteUpdateAsync(set => set.SetProperty(row => row.Version, row => row.Version), stop);

    /// <summary>Removes a person whom the visitor sees.</summary>
    /// <returns>Why not; null where it is done.</returns>
    public async Task<PersonRefusal?> RemoveAsync(Person person, CancellationToken stop)
    {
        // All of the cooperative, also where somebody who sees only their own beds removes themselves.
        var reach = new Reach();
        reach.Open(person.CooperativeId, visitor.Via ?? "terminal", clock);
        await using var whole = stores.CreateDbContext(reach);
        List<long> mails;
        await using (var transaction = await whole.Database.BeginTransactionAsync(stop))
        {
            await Traces.LeaveNoneAsync(whole, stop);
            await HoldAsync(whole, person.CooperativeId, stop);
            if (await whole.People.AsNoTracking().SingleOrDefaultAsync(row => row.Id == person.Id, stop) is not { } kept)
                return null;
            if (await IsLastCoordinatorAsync(whole, kept, stop))
                return PersonRefusal.LastCoordinator;
            mails = await DeleteAsync(whole, kept, stop);
            AuditTrail.Note(
                whole, clock.GetCurrentInstant(), "person.deleted", kept.Id.ToString(CultureInfo.InvariantCulture), personId: visitor.Person?.Id);
            await whole.SaveChangesAsync(stop);
            await transaction.CommitAsync(stop);
        }

        FolderRoute.Delete(options.MailFolder, mails);
        await traces.WipeAsync(stop);
        return null;
    }

    /// <summary>Deletes an account that opens nothing any more, and the service's own mails to it.</summary>
    /// <returns>Keys of those mails; where they are written as files, the files have to go too.</returns>
    public static async Task<IReadOnlyList<long>> DeleteAccountAsync(FruitWatchStore store, long accountId, string email, CancellationToken stop)
    {
        // In SQL, because whether it opens another cooperative is seen in no reach but everything.
        var gone = await store.Database.ExecuteSqlAsync(
            $"""DELETE FROM "Accounts" WHERE "Id" = {accountId} AND NOT "Operator" AND NOT EXISTS (SELECT 1 FROM "People" WHERE "AccountId" = {accountId})""", stop);
        if (gone == 0)
            return [];
        var normalized = Person.Normalize(email);
        var mails = await store.Database.SqlQuery<long>(
            $"""SELECT "Id" AS "Value" FROM "Outbox" WHERE "CooperativeId" IS NULL AND ("ToAddress" = {email} OR lower("ToAddress") = {normalized})""").ToListAsync(stop);
        await store.Database.ExecuteSqlAsync(
            $"""DELETE FROM "Outbox" WHERE "CooperativeId" IS NULL AND ("ToAddress" = {email} OR lower("ToAddress") = {normalized})""", stop);
        return mails;
    }

    private static async Task<List<long>> DeleteAsync(FruitWatchStore whole, Person person, CancellationToken stop)
    {
        var tokens = await whole.ApiTokens.Where(row => row.PersonId == person.Id).Select(row => row.Id).ToListAsync(stop);
        var links = await whole.PersonalLinks.Where(row => row.PersonId == person.Id).Select(row => row.Id).ToListAsync(stop);
        string[] callers = [.. tokens.Select(key => Named("token", key)), .. links.Select(key => Named("link", key)), Named("person", person.Id)];
        string[] names = [.. callers, person.Name, person.Email];
        await whole.LogEntries.Where(row => row.RecordedBy != null && names.Contains(row.RecordedBy))
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.RecordedBy, Recorders.Left), stop);
        // Answers that were kept to be given again hold what was answered to them.
        await whole.IdempotentRequests.Where(row => callers.Contains(row.Caller)).ExecuteDeleteAsync(stop);

        // What told the coordinators that mail to them came back has their name and address in it.
        var about = MailPause.NotesAbout(person.Id);
        var theirs = whole.Outbox.Where(row => row.PersonId == person.Id || row.ToAddress == person.Email || row.Key.StartsWith(about));
        var mails = await theirs.Select(row => row.Id).ToListAsync(stop);
        await whole.DigestNotices.Where(told => theirs.Any(mail => mail.Id == told.MailId)).ExecuteDeleteAsync(stop);
        await theirs.ExecuteDeleteAsync(stop);
        // Sites told about, beds left out, own beds, tokens, links and invitations go with the row.
        await whole.People.Where(row => row.Id == person.Id).ExecuteDeleteAsync(stop);
        if (person.AccountId is { } account)
            mails.AddRange(await DeleteAccountAsync(whole, account, person.Email, stop));
        return mails;
    }

    private static string Named(string what, long key) => string.Create(CultureInfo.InvariantCulture, $"{what}:{key}");
}
