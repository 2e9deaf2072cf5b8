using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// The first account: offered as long as there is none, under an address that only whoever starts the service sees, for an hour (ASVS
/// 5.0 6.3.2, 6.4.1). No account comes with the program.
/// </summary>
internal static class FirstRun
{
    /// <summary>How long an address is good; the next start gives another one.</summary>
    public static readonly Duration Open = Duration.FromHours(1);

    private const string Kept = "setup-code";

    /// <summary>Draws a code, in the place of any before it; null where there is an account.</summary>
    public static async Task<string?> OfferAsync(FruitWatchStore store, IClock clock, CancellationToken stop = default)
    {
        if (await store.Accounts.AnyAsync(stop))
            return null;
        var code = Secrets.Draw();
        var until = (clock.GetCurrentInstant() + Open).ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
        var value = $"{Secrets.Hash(code)} {until}";
        // Of servers that start at the same moment the last one's code holds.
        if (!store.AddIfNew(new Setting { Key = Kept, Value = value }))
            await store.Settings.Where(row => row.Key == Kept).ExecuteUpdateAsync(set => set.SetProperty(row => row.Value, value), stop);
        return code;
    }

    /// <summary>Whether a code opens the set-up; what is kept of it, to be handed to <see cref="MakeAsync"/>.</summary>
    public static async Task<string?> FindAsync(FruitWatchStore store, string code, IClock clock, CancellationToken stop)
    {
        var kept = await store.Settings.Where(row => row.Key == Kept).Select(row => row.Value).SingleOrDefaultAsync(stop);
        return kept?.Split(' ') is [var hash, var until] && Secrets.Matches(code, hash)
            && clock.GetCurrentInstant().ToUnixTimeSeconds() < long.Parse(until, CultureInfo.InvariantCulture)
            && !await store.Accounts.AnyAsync(stop)
            ? kept
            : null;
    }

    /// <summary>Makes cooperative, coordinator and account. False: somebody was faster.</summary>
    public static async Task<bool> MakeAsync(
        FruitWatchStore store, string kept, Account account, Coordinator coordinator, IClock clock, CancellationToken stop)
    {
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        // Whoever takes the row away goes on; a second one finds none.
        if (await store.Settings.Where(row => row.Key == Kept && row.Value == kept).ExecuteDeleteAsync(stop) != 1 || await store.Accounts.AnyAsync(stop))
            return false;
        store.Accounts.Add(account);
        await store.SaveChangesAsync(stop);
        var person = await coordinator.AppointAsync(store, stop);
        (person.AccountId, person.Active) = (account.Id, true);
        AuditTrail.Note(store, clock.GetCurrentInstant(), "service.set-up", null, null, "nobody", person.CooperativeId, person.Id);
        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
        return true;
    }
}

/// <summary>A coordinator to be, with their cooperative.</summary>
/// <param name="Cooperative">Its name.</param>
/// <param name="Name">Theirs.</param>
/// <param name="Email">Their address.</param>
/// <param name="Language">Two-letter code of what they read.</param>
internal sealed record Coordinator(string Cooperative, string Name, string Email, string Language)
{
    /// <summary>Their row, made if it is not there, with that of the cooperative. A new one is not active yet.</summary>
    public async Task<Person> AppointAsync(FruitWatchStore store, CancellationToken stop)
    {
        var cooperative = await store.Cooperatives.OrderBy(row => row.Id).FirstOrDefaultAsync(row => row.Name == Cooperative, stop);
        if (cooperative is null)
        {
            store.Cooperatives.Add(cooperative = new Cooperative { Name = Cooperative });
            await store.SaveChangesAsync(stop);
        }

        var address = Person.Normalize(Email);
        var person = await store.People.SingleOrDefaultAsync(row => row.CooperativeId == cooperative.Id && row.EmailNormalized == address, stop);
        if (person is null)
            store.People.Add(person = new Person { CooperativeId = cooperative.Id, Name = Name, Email = Email.Trim(), Language = Language, Active = false });
        person.Role = Role.Coordinator;
        await store.SaveChangesAsync(stop);
        return person;
    }
}
