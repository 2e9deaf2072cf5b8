using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// Makes guessing slow without locking anybody out: every device that signed in before has a counter of its own for each account; all
/// others share one (OWASP, "Blocking Brute Force Attacks: device cookies"). An attempt is counted before it is looked at, so that many
/// at the same moment count as many; a good one takes the counter away.
/// </summary>
internal sealed class Pace(StoreFactory stores, IClock clock)
{
    /// <summary>Attempts without a wait: mistyping is no attack.</summary>
    public const int Free = 5;

    /// <summary>No wait is longer.</summary>
    public static readonly Duration LongestWait = Duration.FromMinutes(15);

    private static readonly Duration s_firstWait = Duration.FromSeconds(15);

    /// <summary>Failures that lie so far back count no longer.</summary>
    private static readonly Duration s_forgotten = Duration.FromDays(1);

    /// <summary>Takes an attempt.</summary>
    /// <param name="what">Of what: <c>password</c>, <c>second</c>, <c>again</c>.</param>
    /// <param name="who">The account's key, or the address that was typed where there is no such account.</param>
    /// <param name="device">The known device; null for any other.</param>
    /// <param name="stop">Stops it.</param>
    /// <returns>Null: it may be looked at. Else nothing is looked at before then.</returns>
    public async Task<Instant?> TakeAsync(string what, string who, string? device, CancellationToken stop)
    {
        var key = Key(what, who, device);
        await using var store = stores.CreateDbContext();
        for (var round = 0; round < 20; round++)
        {
            var now = clock.GetCurrentInstant();
            var row = await store.SignInPaces.AsNoTracking().SingleOrDefaultAsync(kept => kept.Key == key, stop);
            if (row is null)
            {
                if (await store.AddIfNewAsync(new SignInPace { Key = key, Failures = 1, LastAt = now, NotBefore = now }, stop))
                    return null;
                continue;
            }

            if (row.NotBefore > now)
                return row.NotBefore;
            var failures = now - row.LastAt > s_forgotten ? 1 : row.Failures + 1;
            var notBefore = now + WaitAfter(failures);
            var taken = await store.SignInPaces.Where(kept => kept.Key == key && kept.Failures == row.Failures && kept.LastAt == row.LastAt).ExecuteUpdateAsync(
                set => set.SetProperty(kept => kept.Failures, failures).SetProperty(kept => kept.LastAt, now).SetProperty(kept => kept.NotBefore, notBefore), stop);
            if (taken == 1)
                return null;
        }

        return clock.GetCurrentInstant() + s_firstWait;
    }

    /// <summary>It was a good one.</summary>
    public async Task ForgiveAsync(string what, string who, string? device, CancellationToken stop)
    {
        var key = Key(what, who, device);
        var old = clock.GetCurrentInstant() - (2 * s_forgotten);
        await using var store = stores.CreateDbContext();
        await store.SignInPaces.Where(row => row.Key == key || row.LastAt < old).ExecuteDeleteAsync(stop);
    }

    /// <summary>How long to wait after so many failures: doubling from a quarter of a minute to a quarter of an hour.</summary>
    public static Duration WaitAfter(int failures) => failures < Free
        ? Duration.Zero
        : Duration.Min(LongestWait, s_firstWait * (1L << Math.Min(failures - Free, 10)));

    private static string Key(string what, string who, string? device) => Secrets.Hash($"{what}|{who}|{device ?? "any unknown device"}");
}
