using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>Who is asked to become a member, where, and by whom it can be accepted.</summary>
/// <param name="Invitation">The row.</param>
/// <param name="Person">Who is asked.</param>
/// <param name="Cooperative">Where to.</param>
/// <param name="HasAccount">There is an account with the person's address: its holder signs in first.</param>
/// <param name="Open">It can still be accepted.</param>
internal sealed record Invited(Invitation Invitation, Person Person, Cooperative Cooperative, bool HasAccount, bool Open);

/// <summary>Makes accounts, and members of those who were invited.</summary>
internal sealed class Newcomers(StoreFactory stores, UserManager<Account> accounts, IClock clock)
{
    /// <summary>The invitation of a secret; null where there is none.</summary>
    public async Task<Invited?> FindAsync(string secret, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var hash = Secrets.Hash(secret);
        if (await store.Invitations.AsNoTracking().SingleOrDefaultAsync(row => row.Hash == hash, stop) is not { } invitation)
            return null;
        var person = await store.People.AsNoTracking().SingleAsync(row => row.Id == invitation.PersonId, stop);
        var cooperative = await store.Cooperatives.AsNoTracking().SingleAsync(row => row.Id == invitation.CooperativeId, stop);
        var name = accounts.NormalizeName(person.Email.Trim());
        return new Invited(
            invitation,
            person,
            cooperative,
            await store.Accounts.AnyAsync(row => row.NormalizedUserName == name, stop),
            invitation.AcceptedAt is null && invitation.ExpiresAt > clock.GetCurrentInstant());
    }

    /// <summary>Accepts with a new account. Null: somebody was faster, or there is such an account by now.</summary>
    public async Task<Account?> AcceptAsync(Invited invited, string password, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        await using var store = stores.CreateDbContext();
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        var account = Make(invited.Person.Email, password, confirmed: true, now);
        if (!await TakeAsync(store, invited, now, stop) || await store.Accounts.AnyAsync(row => row.NormalizedUserName == account.NormalizedUserName, stop))
            return null;
        store.Accounts.Add(account);
        await store.SaveChangesAsync(stop);
        await JoinAsync(store, invited, account.Id, now, stop);
        await transaction.CommitAsync(stop);
        return account;
    }

    /// <summary>Accepts with the account of somebody who has signed in. False: somebody was faster, or they are a member there already.</summary>
    public async Task<bool> AcceptAsync(Invited invited, long accountId, CancellationToken stop)
    {
        var now = clock.GetCurrentInstant();
        await using var store = stores.CreateDbContext();
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        if (!await TakeAsync(store, invited, now, stop)
            || await store.People.AnyAsync(row => row.CooperativeId == invited.Cooperative.Id && row.AccountId == accountId && row.Id != invited.Person.Id && row.Active, stop))
            return false;
        await JoinAsync(store, invited, accountId, now, stop);
        await transaction.CommitAsync(stop);
        return true;
    }

    /// <summary>An account as Identity would make it, not yet saved: it is written in the transaction of what it is for.</summary>
    public Account Make(string email, string? password, bool confirmed, Instant now)
    {
        email = email.Trim();
        var account = new Account
        {
            UserName = email,
            Email = email,
            NormalizedUserName = accounts.NormalizeName(email),
            NormalizedEmail = accounts.NormalizeEmail(email),
            EmailConfirmed = confirmed,
            SecurityStamp = Secrets.Draw(),
            MadeAt = now,
        };
        account.PasswordHash = password is null ? null : accounts.PasswordHasher.HashPassword(account, password);
        return account;
    }

    // Taken by a single statement, so that of two at the same moment one is refused.
    private static async Task<bool> TakeAsync(FruitWatchStore store, Invited invited, Instant now, CancellationToken stop)
    {
        Instant? at = now;
        return await store.Invitations.Where(row => row.Id == invited.Invitation.Id && row.AcceptedAt == null && row.ExpiresAt > now)
            .ExecuteUpdateAsync(set => set.SetProperty(row => row.AcceptedAt, at), stop) == 1;
    }

    private static async Task JoinAsync(FruitWatchStore store, Invited invited, long accountId, Instant now, CancellationToken stop)
    {
        var person = await store.People.SingleAsync(row => row.Id == invited.Person.Id, stop);
        (person.AccountId, person.Active, person.EmailConfirmedAt) = (accountId, true, now);
        MailPause.End(person);
        AuditTrail.Note(store, now, "invitation.accepted", Text(invited.Invitation.Id), null, "session", invited.Cooperative.Id, person.Id);
        await store.SaveChangesAsync(stop);
    }

    private static string Text(long id) => id.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
