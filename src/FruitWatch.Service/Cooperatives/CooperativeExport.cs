using System.Buffers;
using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using Microsoft.Net.Http.Headers;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Cooperatives;

/// <summary>A finished export: a file that is gone once it is read.</summary>
internal sealed record ExportFile(Stream Content, string Name, string MediaType)
{
    public IResult ToResult(HttpContext context)
    {
        context.Response.Headers[HeaderNames.CacheControl] = "no-store";
        return Results.Stream(Content, MediaType, Name);
    }
}

/// <summary>
/// Writes everything of a cooperative into one file, as of one moment, row by row: what is held in memory is the keys and one row. Keys
/// are numbered from 1 in every table, so that the same cooperative gives the same bytes wherever it is kept.
/// </summary>
internal sealed class CooperativeExport(StoreFactory stores, IClock clock)
{
    private static readonly JsonWriterOptions s_json = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, SkipValidation = false };

    private static readonly SearchValues<char> s_quoted = SearchValues.Create("\",\r\n\t\0'");

    /// <summary>Notes that it is taken, and makes it.</summary>
    public Task<ExportFile> MakeAsync(Visitor visitor, string form, CancellationToken stop) =>
        MakeAsync(visitor.Cooperative!.Id, visitor.Via!, visitor.Person?.Id, form, stop);

    /// <inheritdoc cref="MakeAsync(Visitor, string, CancellationToken)"/>
    /// <exception cref="InvalidOperationException">There is no such cooperative.</exception>
    public async Task<ExportFile> MakeAsync(long cooperativeId, string via, long? personId, string form, CancellationToken stop)
    {
        var reach = new Reach();
        reach.Open(cooperativeId, via, clock);
        await using var store = stores.CreateDbContext(reach);
        var now = clock.GetCurrentInstant();
        AuditTrail.Note(store, now, "cooperative.exported", cooperativeId.ToString(CultureInfo.InvariantCulture), new { form }, personId: personId);
        await store.SaveChangesAsync(stop);

        // Whole before any of it is sent: a download that ends early must not look like an export.
        var file = new FileStream(Path.GetTempFileName(), FileMode.Create, FileAccess.ReadWrite, FileShare.None, 64 * 1024, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
        try
        {
            if (form == "csv")
                await WriteCsvAsync(store, file, stop);
            else
                await WriteJsonAsync(store, file, stop);
            file.Position = 0;
            var name = $"fruitwatch-{LocalDatePattern.Iso.Format(now.InUtc().Date)}";
            return form == "csv" ? new ExportFile(file, name + ".zip", "application/zip") : new ExportFile(file, name + ".json", "application/json");
        }
        catch
        {
            await file.DisposeAsync();
            throw;
        }
    }

    /// <summary>The JSON document.</summary>
    public static async Task WriteJsonAsync(FruitWatchStore store, Stream output, CancellationToken stop)
    {
        await using var moment = await Snapshot.BeginAsync(store, stop);
        var tables = ExportTables.Of(store.Model);
        var keys = await NumberAsync(store, tables, stop);
        var row = new ArrayBufferWriter<byte>();
        await using var json = new Utf8JsonWriter(row, s_json);
        await output.WriteAsync(Encoding.UTF8.GetBytes($"{{\"schema\":\"{ExportTables.Schema}\""), stop);
        foreach (var table in tables)
        {
            var single = table.Name == "cooperative";
            await output.WriteAsync(Encoding.UTF8.GetBytes($",\n\"{table.Name}\":{(single ? "" : "[")}"), stop);
            var first = true;
            await foreach (var one in table.Rows(store).AsAsyncEnumerable().WithCancellation(stop))
            {
                row.ResetWrittenCount();
                json.Reset();
                json.WriteStartObject();
                foreach (var column in table.Columns)
                    ExportValues.Write(json, column, one, keys);
                json.WriteEndObject();
                await json.FlushAsync(stop);
                if (!single)
                    await output.WriteAsync(first ? "\n"u8.ToArray() : ",\n"u8.ToArray(), stop);
                await output.WriteAsync(row.WrittenMemory, stop);
                first = false;
            }

            if (!single)
                await output.WriteAsync(first ? "]"u8.ToArray() : "\n]"u8.ToArray(), stop);
        }

        await output.WriteAsync("}\n"u8.ToArray(), stop);
    }

    /// <summary>The tables as CSV (RFC 4180, UTF-8 with its mark), packed as a zip.</summary>
    public static async Task WriteCsvAsync(FruitWatchStore store, Stream output, CancellationToken stop)
    {
        await using var moment = await Snapshot.BeginAsync(store, stop);
        var tables = ExportTables.Of(store.Model);
        var keys = await NumberAsync(store, tables, stop);
        await using var zip = await ZipArchive.CreateAsync(output, ZipArchiveMode.Create, leaveOpen: true, Encoding.UTF8, stop);
        foreach (var table in tables)
        {
            var entry = zip.CreateEntry(table.Name + ".csv", CompressionLevel.Optimal);
            // The same rows give the same bytes.
            entry.LastWriteTime = new DateTimeOffset(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);
            await using var text = new StreamWriter(await entry.OpenAsync(stop), new UTF8Encoding(encoderShouldEmitUTF8Identifier: true), 32 * 1024) { NewLine = "\r\n" };
            await text.WriteLineAsync(Line(table.Columns.Select(column => column.Unit is { } unit ? $"{column.Name} ({unit})" : column.Name)).AsMemory(), stop);
            await foreach (var one in table.Rows(store).AsAsyncEnumerable().WithCancellation(stop))
                await text.WriteLineAsync(Line(table.Columns.Select(column => ExportValues.Cell(column, one, keys))).AsMemory(), stop);
        }
    }

    // RFC 4180 section 2: fields with quotes, commas or breaks stand in quotes, and quotes in them are doubled.
    private static string Line(IEnumerable<string> cells) => string.Join(',', cells.Select(cell =>
        cell.AsSpan().ContainsAny(s_quoted) || cell.StartsWith(' ') || cell.EndsWith(' ') ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell));

    private static async Task<ExportKeys> NumberAsync(FruitWatchStore store, IReadOnlyList<ExportTable> tables, CancellationToken stop)
    {
        var keys = new ExportKeys();
        foreach (var table in tables.Where(table => table.HasKey))
        {
            var number = 0L;
            await foreach (var key in table.KeysOf(store).AsAsyncEnumerable().WithCancellation(stop))
                keys.Add(table.Kept.ClrType, key, ++number);
        }

        return keys;
    }
}
