using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>What came of an attempt.</summary>
/// <param name="Account">Whose password it was; null where it was nobody's.</param>
/// <param name="NotBefore">Nothing was looked at, and nothing will be before then.</param>
internal sealed record Attempt(Account? Account, Instant? NotBefore);

/// <summary>Looks at an address and a password. Whether there is such an account shows neither in the answer nor in the work (ASVS 5.0 6.3.8).</summary>
internal sealed class PasswordDoor(UserManager<Account> accounts, UnknownAccount unknown, Pace pace, Devices devices, StoreFactory stores, IClock clock)
{
    private const string What = "password";

    public async Task<Attempt> TryAsync(string email, string password, CancellationToken stop)
    {
        var account = await accounts.FindByEmailAsync(email.Trim());
        var who = account?.Id.ToString(CultureInfo.InvariantCulture) ?? Person.Normalize(email);
        var device = devices.Of(account?.Id);
        if (await pace.TakeAsync(What, who, device, stop) is { } notBefore)
            return new Attempt(null, notBefore);
        // One that is longer than any we take is not worth the hashing.
        var right = password.Length <= PasswordRules.Most
            && (account?.PasswordHash is null ? unknown.Check(accounts.PasswordHasher, password) : await accounts.CheckPasswordAsync(account, password));
        if (!right)
        {
            await NoteAsync(account, What, stop);
            return new Attempt(null, null);
        }

        await pace.ForgiveAsync(What, who, device, stop);
        return new Attempt(account, null);
    }

    /// <summary>Writes down that somebody was refused, for the cooperatives of the account; of an unknown one no address is kept.</summary>
    public async Task NoteAsync(Account? account, string what, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var now = clock.GetCurrentInstant();
        var people = account is null ? [] : await store.People.Where(row => row.AccountId == account.Id && row.Active).Select(row => row.CooperativeId).Distinct().ToListAsync(stop);
        foreach (var cooperative in people.Select(key => (long?)key).DefaultIfEmpty(null))
            AuditTrail.Note(store, now, "sign-in.refused", account?.Id.ToString(CultureInfo.InvariantCulture), new { what, knownDevice = devices.Of(account?.Id) is not null }, "nobody", cooperative);
        await store.SaveChangesAsync(stop);
    }
}

/// <summary>Stands in for an account that is not there, so that refusing it takes as long.</summary>
internal sealed class UnknownAccount
{
    private readonly Account nobody = new();
    private string? hash;

    /// <summary>Does the work of a check and refuses.</summary>
    public bool Check(IPasswordHasher<Account> hasher, string password)
    {
        hash ??= hasher.HashPassword(nobody, Secrets.Draw());
        _ = hasher.VerifyHashedPassword(nobody, hash, password);
        return false;
    }
}
