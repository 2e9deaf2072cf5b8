using System.Text.Json;
using System.Text.Json.Serialization;
using FruitWatch.Model.Notices;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Notices;

/// <summary>Notices between the model, which decides them, and the store, which keeps what was issued.</summary>
internal static class NoticeRows
{
    private static readonly JsonSerializerOptions s_json = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        DictionaryKeyPolicy = JsonNamingPolicy.CamelCase,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    /// <summary>A notice that opens.</summary>
    public static IssuedNotice Open(long siteId, long bedId, NoticeOpened opened, LocalDate today, Instant now)
    {
        var row = new IssuedNotice
        {
            SiteId = siteId,
            BedId = bedId,
            Kind = WordOf(opened.Kind),
            Episode = opened.Episode,
            FirstOn = today,
            State = NoticeState.Open,
            Confidence = "",
            Reason = "",
            ConfirmedOn = today,
            IssuedAt = now,
        };
        Put(row, opened.Draft);
        return row;
    }

    /// <summary>A notice of which something material changed: it is told again, once.</summary>
    public static void Revise(IssuedNotice row, NoticeDraft draft, LocalDate today, Instant now)
    {
        Put(row, draft);
        row.RevisedAt = now;
        row.Revisions++;
        row.ConfirmedOn = today;
    }

    /// <summary>A notice that ends.</summary>
    public static void Close(IssuedNotice row, NoticeClosed closed, LocalDate today, Instant now)
    {
        row.State = closed.How switch
        {
            NoticeEnd.Done => NoticeState.Done,
            NoticeEnd.Withdrawn => NoticeState.Withdrawn,
            _ => NoticeState.Lapsed,
        };
        row.ClosedOn = today;
        row.ClosedAt = now;
        row.Revisions++;
        row.ClosedWhy = JsonNamingPolicy.CamelCase.ConvertName(closed.Why.ToString());
    }

    /// <summary>What was told, for the words.</summary>
    public static NoticeDraft Draft(IssuedNotice row)
    {
        var kept = JsonSerializer.Deserialize<KeptReason>(row.Reason, s_json)!;
        return new NoticeDraft(
            KindOf(row.Kind), row.Day, row.Deadline, Enum.Parse<NoticeConfidence>(row.Confidence, ignoreCase: true), new NoticeReason(kept.Code, kept.Numbers))
        {
            Amount = row.Amount,
            Urgent = kept.Urgent,
        };
    }

    /// <summary>Why a notice ended, or null while it is open.</summary>
    public static ClosingCode? ClosingOf(IssuedNotice row) =>
        row.ClosedWhy is { } why ? Enum.Parse<ClosingCode>(why, ignoreCase: true) : null;

    public static OpenNotice ToOpen(IssuedNotice row) =>
        new(row.Id, KindOf(row.Kind), row.Episode, row.FirstOn, row.Day, row.Deadline, row.Amount, Draft(row).Reason);

    public static ClosedNotice ToClosed(IssuedNotice row) => new(
        KindOf(row.Kind),
        row.Episode,
        row.FirstOn,
        row.ClosedOn!.Value,
        row.State switch
        {
            NoticeState.Done => NoticeEnd.Done,
            NoticeState.Withdrawn => NoticeEnd.Withdrawn,
            _ => NoticeEnd.Lapsed,
        });

    /// <summary>The kind as it is kept and as the API spells it, such as <c>frost-ahead</c>.</summary>
    public static string WordOf(NoticeKind kind) => JsonNamingPolicy.KebabCaseLower.ConvertName(kind.ToString());

    public static NoticeKind KindOf(string word) => Enum.Parse<NoticeKind>(word.Replace("-", "", StringComparison.Ordinal), ignoreCase: true);

    private static void Put(IssuedNotice row, NoticeDraft draft)
    {
        row.Day = draft.Day;
        row.Deadline = draft.Deadline;
        row.Amount = draft.Amount;
        row.Confidence = JsonNamingPolicy.CamelCase.ConvertName(draft.Confidence.ToString());
        row.Reason = JsonSerializer.Serialize(
            new KeptReason(draft.Reason.Code, draft.Urgent, new Dictionary<ReasonNumber, double>(draft.Reason.Numbers)), s_json);
    }

    private sealed record KeptReason(ReasonCode Code, bool Urgent, Dictionary<ReasonNumber, double> Numbers);
}
