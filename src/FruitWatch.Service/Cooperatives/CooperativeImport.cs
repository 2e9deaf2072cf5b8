using System.Globalization;
using System.Text.Json;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Cooperatives;

/// <summary>A file cannot be taken in. Each line names a place in it and what is wrong there.</summary>
internal sealed class ImportException(IReadOnlyList<string> errors) : Exception(string.Join('\n', errors))
{
    public IReadOnlyList<string> Errors => errors;
}

/// <summary>What was taken in.</summary>
/// <param name="CooperativeId">Key of the new cooperative.</param>
/// <param name="Name">Its name.</param>
/// <param name="Rows">Rows by table.</param>
internal sealed record Imported(long CooperativeId, string Name, IReadOnlyList<(string Table, int Rows)> Rows);

/// <summary>
/// Takes an export in as a new cooperative: all of it, or nothing. The whole file is read and held against the store's rules first; only
/// then is anything written, in one transaction. Nobody is let in, and no program is told anything, before somebody here says so.
/// </summary>
internal sealed class CooperativeImport(StoreFactory stores, WebhookKeys keys, BedCatalogue catalogue, ServiceOptions options, IClock clock)
{
    private const int RowsAtOnce = 500;

    private static readonly JsonDocumentOptions s_json = new() { MaxDepth = 64, AllowDuplicateProperties = false };

    /// <summary>Takes it in.</summary>
    /// <param name="file">The JSON of an export.</param>
    /// <param name="name">What the cooperative is to be called; as in the file where left out.</param>
    /// <param name="stop">Stops it; nothing is written then.</param>
    /// <exception cref="ImportException">Something about the file is wrong. Nothing was written.</exception>
    public async Task<Imported> RunAsync(Stream file, string? name, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var tables = ExportTables.Of(store.Model);
        var rows = await ReadAsync(file, tables, stop);
        var cooperative = (Cooperative)rows[0].Rows[0];
        cooperative.Name = name ?? cooperative.Name;

        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        if (await store.Cooperatives.AnyAsync(row => row.Name == cooperative.Name, stop))
            throw new ImportException([$"cooperative.name: there is a cooperative named '{cooperative.Name}' here. Give the new one another name with --name."]);
        store.Add(cooperative);
        await store.SaveChangesAsync(stop);
        var here = new ExportKeys();
        foreach (var (table, read) in rows.Skip(1))
            await WriteAsync(store, table, read, cooperative.Id, here, stop);
        AuditTrail.Note(
            store,
            clock.GetCurrentInstant(),
            "cooperative.imported",
            cooperative.Id.ToString(CultureInfo.InvariantCulture),
            rows.Skip(1).ToDictionary(one => one.Table.Name, one => one.Rows.Count),
            via: "terminal",
            cooperativeId: cooperative.Id);
        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
        return new Imported(cooperative.Id, cooperative.Name, [.. rows.Skip(1).Select(one => (one.Table.Name, one.Rows.Count))]);
    }

    private async Task<IReadOnlyList<(ExportTable Table, IReadOnlyList<object> Rows)>> ReadAsync(Stream file, IReadOnlyList<ExportTable> tables, CancellationToken stop)
    {
        var reading = new ImportReading(catalogue, options.LocalReceiverSet);
        try
        {
            using var document = await JsonDocument.ParseAsync(file, s_json, stop);
            var rows = reading.Read(document.RootElement, tables);
            return reading.Errors.Count == 0 ? rows : throw new ImportException(reading.Errors);
        }
        catch (InvalidOperationException)
        {
            throw new ImportException(["The file holds text that is not UTF-8."]);
        }
        catch (JsonException broken)
        {
            throw new ImportException([FormattableString.Invariant(
                $"line {broken.LineNumber + 1}, byte {broken.BytePositionInLine + 1}: this is not JSON that can be read. Is the file whole?")]);
        }
    }

    private async Task WriteAsync(FruitWatchStore store, ExportTable table, IReadOnlyList<object> rows, long cooperativeId, ExportKeys here, CancellationToken stop)
    {
        var key = table.Columns.SingleOrDefault(column => column.IsKey);
        var numbered = 0L;
        foreach (var part in rows.Chunk(RowsAtOnce))
        {
            foreach (var row in part)
            {
                key?.Property.SetValue(row, 0L);
                Fit(row, cooperativeId);
                // Entries name earlier ones of their own table, which may lie in the same part.
                var own = table.Columns.FirstOrDefault(column => !column.IsKey && column.Refers == table.Kept.ClrType);
                if (own?.Property.GetValue(row) is long before && here.Find(table.Kept.ClrType, before) is null)
                    numbered = await SaveAsync(store, table, key, here, numbered, stop);
                foreach (var column in table.Columns.Where(column => column.Refers is not null && !column.IsKey))
                {
                    if (column.Property.GetValue(row) is long number)
                        column.Property.SetValue(row, here.Find(column.Refers!, number));
                }

                if (row is LogEntry { RecordedBy: ['p', 'e', 'r', 's', 'o', 'n', ':', .. var person] } entry)
                    entry.RecordedBy = "person:" + here.Find(typeof(Person), long.Parse(person, CultureInfo.InvariantCulture))!.Value.ToString(CultureInfo.InvariantCulture);
                store.Add(row);
            }

            numbered = await SaveAsync(store, table, key, here, numbered, stop);
        }
    }

    private static async Task<long> SaveAsync(FruitWatchStore store, ExportTable table, ExportColumn? key, ExportKeys here, long numbered, CancellationToken stop)
    {
        // In the order in which they were added, which is that of their numbers.
        var added = store.ChangeTracker.Entries().Where(entry => entry.State == EntityState.Added).Select(entry => entry.Entity).ToList();
        await store.SaveChangesAsync(stop);
        if (key is not null)
        {
            var last = 0L;
            foreach (var row in added)
            {
                var made = (long)key.Property.GetValue(row)!;
                if (made <= last)
                    throw new InvalidOperationException($"The store numbered the rows of {table.Name} out of their order.");
                here.Add(table.Kept.ClrType, ++numbered, last = made);
            }
        }

        store.ChangeTracker.Clear();
        return numbered;
    }

    private void Fit(object row, long cooperativeId)
    {
        switch (row)
        {
            case Site site:
                site.CooperativeId = cooperativeId;
                break;
            case Feed feed:
                feed.CooperativeId = cooperativeId;
                break;
            case Person person:
                // Until somebody here invites them.
                (person.CooperativeId, person.Active) = (cooperativeId, false);
                break;
            case Webhook webhook:
                (webhook.CooperativeId, webhook.Active, webhook.MadeAt) = (cooperativeId, false, clock.GetCurrentInstant());
                webhook.SealedSecret = keys.Seal(WebhookKeys.Draw());
                break;
        }
    }
}
