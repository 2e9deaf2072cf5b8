using System.Globalization;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Cooperatives;

/// <summary>What the things that entries of the audit name by key are called today.</summary>
internal sealed class AuditNames
{
    private readonly Dictionary<(string Subject, string Key), string> names = [];

    public static async Task<AuditNames> ReadAsync(FruitWatchStore store, IReadOnlyList<AuditEntry> entries, CancellationToken stop)
    {
        var read = new AuditNames();
        var people = entries.Where(row => row.PersonId is not null).Select(row => row.PersonId!.Value).Concat(Keys(entries, "person")).Distinct().ToArray();
        await read.AddAsync("person", store.People.Where(row => people.Contains(row.Id)).Select(row => new Named(row.Id, row.Name)), stop);
        await read.AddAsync("cooperative", Keys(entries, "cooperative") is { Length: > 0 } ? store.Cooperatives.Select(row => new Named(row.Id, row.Name)) : null, stop);
        await read.AddAsync("site", Keys(entries, "site") is { Length: > 0 } sites ? store.Sites.Where(row => sites.Contains(row.Id)).Select(row => new Named(row.Id, row.Name)) : null, stop);
        await read.AddAsync("bed", Keys(entries, "bed") is { Length: > 0 } beds ? store.Beds.Where(row => beds.Contains(row.Id)).Select(row => new Named(row.Id, row.Name)) : null, stop);
        await read.AddAsync("feed", Keys(entries, "feed") is { Length: > 0 } feeds ? store.Feeds.Where(row => feeds.Contains(row.Id)).Select(row => new Named(row.Id, row.Title)) : null, stop);
        await read.AddAsync("webhook", Keys(entries, "webhook") is { Length: > 0 } hooks ? store.Webhooks.Where(row => hooks.Contains(row.Id)).Select(row => new Named(row.Id, row.Name)) : null, stop);
        await read.AddAsync("token", Keys(entries, "token") is { Length: > 0 } tokens ? store.ApiTokens.Where(row => tokens.Contains(row.Id)).Select(row => new Named(row.Id, row.Name)) : null, stop);
        return read;
    }

    /// <summary>The name; null where it has none, or is gone.</summary>
    public string? Of(string subject, string key) => names.GetValueOrDefault((subject, key));

    private async Task AddAsync(string subject, IQueryable<Named>? rows, CancellationToken stop)
    {
        if (rows is null)
            return;
        foreach (var row in await rows.ToListAsync(stop))
            names[(subject, row.Key.ToString(CultureInfo.InvariantCulture))] = row.Name;
    }

    private static long[] Keys(IReadOnlyList<AuditEntry> entries, string subject) =>
    [
        .. entries.Where(row => row.Action.StartsWith(subject + ".", StringComparison.Ordinal))
            .Select(row => long.TryParse(row.SubjectId, NumberStyles.None, CultureInfo.InvariantCulture, out var key) ? key : 0).Where(key => key > 0).Distinct(),
    ];

    private sealed record Named(long Key, string Name);
}
