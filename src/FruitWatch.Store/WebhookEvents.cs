using System.Buffers;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Store;

/// <summary>
/// Writes down what programs are to be told, in the transaction of what happened. Beds and log entries that a member's store saves
/// are told by themselves, as <see cref="AuditTrail"/> does; rounds say so.
/// </summary>
public static class WebhookEvents
{
    /// <summary>A notice opens.</summary>
    public const string NoticeOpened = "notice.opened";

    /// <summary>Something material about a notice changed.</summary>
    public const string NoticeChanged = "notice.changed";

    /// <summary>A notice ends.</summary>
    public const string NoticeClosed = "notice.closed";

    /// <summary>A log entry was made.</summary>
    public const string LogEntryMade = "log-entry.made";

    /// <summary>A log entry was undone, or replaced by another one.</summary>
    public const string LogEntryUndone = "log-entry.undone";

    /// <summary>A bed was made.</summary>
    public const string BedMade = "bed.made";

    /// <summary>A bed was changed.</summary>
    public const string BedChanged = "bed.changed";

    /// <summary>The morning round of a site is done: forecast, outlooks and notices stand for the day.</summary>
    public const string RoundDone = "round.done";

    /// <summary>Somebody tries out a webhook; goes to it whatever it asked for.</summary>
    public const string Test = "webhook.test";

    /// <summary>What a webhook may ask for, in the order in which it is offered.</summary>
    public static IReadOnlyList<string> All { get; } =
        [NoticeOpened, NoticeChanged, NoticeClosed, LogEntryMade, LogEntryUndone, BedMade, BedChanged, RoundDone];

    /// <summary>The events that a row names.</summary>
    public static IReadOnlyList<string> Of(Webhook webhook)
    {
        ArgumentNullException.ThrowIfNull(webhook);
        return webhook.Events.Split(' ', StringSplitOptions.RemoveEmptyEntries);
    }

    /// <summary>
    /// Writes a delivery for every webhook of the cooperative that asked for the event. The same happening written twice is told once.
    /// </summary>
    /// <param name="store">Where to; call it in the transaction of what happened, after its keys are known.</param>
    /// <param name="at">When it happened.</param>
    /// <param name="cooperativeId">Where it happened.</param>
    /// <param name="happened">What happened.</param>
    /// <param name="cancellationToken">Stops it.</param>
    /// <returns>How many deliveries were written.</returns>
    public static async Task<int> AddAsync(
        FruitWatchStore store, Instant at, long cooperativeId, IReadOnlyCollection<Happening> happened, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(store);
        ArgumentNullException.ThrowIfNull(happened);
        if (happened.Count == 0)
            return 0;
        var webhooks = await store.Webhooks.AsNoTracking().Where(row => row.CooperativeId == cooperativeId && row.Active)
            .OrderBy(row => row.Id).ToListAsync(cancellationToken);
        var rows = (
            from one in happened
            from webhook in webhooks
            where Of(webhook).Contains(one.Event)
            select Delivery(webhook, one, at)).ToList();
        return await WriteAsync(store, rows, cancellationToken);
    }

    /// <summary>Writes a delivery for one webhook, whatever it asked for.</summary>
    public static async Task<WebhookDelivery> AddToAsync(
        FruitWatchStore store, Instant at, Webhook webhook, Happening happening, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(webhook);
        var row = Delivery(webhook, happening, at);
        await WriteAsync(store, [row], cancellationToken);
        return await store.WebhookDeliveries.AsNoTracking()
            .SingleAsync(kept => kept.WebhookId == webhook.Id && kept.MessageId == row.MessageId, cancellationToken);
    }

    /// <summary>What of the saved changes is told, read off the audit.</summary>
    internal static List<Happening> Of(IReadOnlyList<AuditTrail.Change> changes)
    {
        var happened = new List<Happening>();
        foreach (var change in changes)
        {
            switch (change.Row.Entity)
            {
                case Bed bed when change.Action is "bed.made" or "bed.changed":
                    happened.Add(new Happening(change.Action, FormattableString.Invariant($"{bed.Id}/{bed.Version}"), FormattableString.Invariant($"beds/{bed.Id}"))
                    { SiteId = bed.SiteId, BedId = bed.Id });
                    break;
                case LogEntry entry when change.Action == "log-entry.made" || (change.Action == "log-entry.changed" && entry.UndoneAt is not null):
                    happened.Add(Entry(entry, change.Action == "log-entry.made" ? LogEntryMade : LogEntryUndone));
                    break;
            }
        }

        return happened;
    }

    private static Happening Entry(LogEntry entry, string what) => new(
        what,
        entry.Id.ToString(CultureInfo.InvariantCulture),
        FormattableString.Invariant($"beds/{entry.BedId}/log/{entry.Id}"))
    { BedId = entry.BedId, LogEntryId = entry.Id, On = entry.On };

    private static WebhookDelivery Delivery(Webhook webhook, Happening happening, Instant at) => new()
    {
        CooperativeId = webhook.CooperativeId,
        WebhookId = webhook.Id,
        MessageId = MessageId(webhook, happening),
        Event = happening.Event,
        Body = Body(webhook.CooperativeId, happening, at),
        State = DeliveryState.Pending,
        NextTryAt = at,
        MadeAt = at,
    };

    // The same for the same happening, and another one for every webhook of every installation: receivers drop what they have seen.
    // Without a full stop, which parts the signed text (Standard Webhooks, "Signature scheme").
    private static string MessageId(Webhook webhook, Happening happening)
    {
        var natural = string.Create(CultureInfo.InvariantCulture, $"{webhook.Id}/{webhook.MadeAt.ToUnixTimeTicks()}/{happening.Event}/{happening.Once}");
        return "msg_" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(natural)))[..40];
    }

    // Thin: keys, and where to read the rest with a token, so that nothing of anybody's travels to an address that may be wrong.
    private static string Body(long cooperativeId, Happening happening, Instant at)
    {
        var bytes = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(bytes))
        {
            json.WriteStartObject();
            json.WriteString("type", happening.Event);
            json.WriteString("timestamp", InstantPattern.ExtendedIso.Format(at));
            json.WriteStartObject("data");
            json.WriteNumber("cooperativeId", cooperativeId);
            Key(json, "siteId", happening.SiteId);
            Key(json, "bedId", happening.BedId);
            Key(json, "noticeId", happening.NoticeId);
            Key(json, "logEntryId", happening.LogEntryId);
            if (happening.On is { } on)
                json.WriteString("on", LocalDatePattern.Iso.Format(on));
            json.WriteString("resource", "/api/v1/" + happening.Resource);
            json.WriteEndObject();
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(bytes.WrittenSpan);
    }

    private static void Key(Utf8JsonWriter json, string name, long? key)
    {
        if (key is { } known)
            json.WriteNumber(name, known);
    }

    private static async Task<int> WriteAsync(FruitWatchStore store, IReadOnlyList<WebhookDelivery> rows, CancellationToken stop)
    {
        var written = 0;
        foreach (var part in rows.Chunk(InsertText.RowsAtOnce))
        {
            var insert = InsertText.For(store, part);
            var sql = insert.Sql + " ON CONFLICT (\"WebhookId\", \"MessageId\") DO NOTHING";
            written += await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, stop);
        }

        return written;
    }
}

/// <summary>Something that programs are told.</summary>
/// <param name="Event">Which event.</param>
/// <param name="Once">Key by which the same happening is known again.</param>
/// <param name="Resource">Where the API tells more, below <c>/api/v1/</c>.</param>
public sealed record Happening(string Event, string Once, string Resource)
{
    /// <summary>The site.</summary>
    public long? SiteId { get; init; }

    /// <summary>The bed.</summary>
    public long? BedId { get; init; }

    /// <summary>The notice.</summary>
    public long? NoticeId { get; init; }

    /// <summary>The log entry.</summary>
    public long? LogEntryId { get; init; }

    /// <summary>The site's local day.</summary>
    public LocalDate? On { get; init; }
}
