using System.ComponentModel;
using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>A feed of a site as the API gives it.</summary>
[Description("How a feed has been answering for a site.")]
internal sealed record SiteFeedBody(
    [property: Description("Key of the feed.")] long FeedId,
    [property: Description("What the site uses it for.")] FeedSlot Slot,
    [property: Description("What it is called.")] string Title,
    [property: Description("How it stands. asked: its answer is held until somebody says whether its units are right. waiting: somebody must change something.")] FeedStanding State,
    [property: Description("When it last gave days that could be used.")] Instant? LastGoodAt,
    [property: Description("Hours since then.")] double? AgeHours,
    [property: Description("When it was last asked.")] Instant? LastTriedAt,
    [property: Description("When it may be asked again.")] Instant? NextTryAt,
    [property: Description("Why the last try gave nothing; the codes are explained in docs/feeds.md.")] string? ProblemCode,
    [property: Description("The same in words.")] string? Problem,
    [property: Description("What the refused answer looked like. Foreign text.")] EvidenceBody? Evidence,
    [property: Description("Tries without a good answer since the last good one.")] int FailuresInARow,
    [property: Description("Last day that the feed has told.")] LocalDate? LastDay,
    [property: Description("What was odd about the last good answer.")] IReadOnlyList<FeedNote> Notes,
    [property: Description("The unit asked about while the answer is held.")] FeedQuestion? Question,
    [property: Description("Without a good answer since then, for two days or more; null where it is not silent.")] Instant? SilentSince,
    [property: Description("What must be shown beside the data.")] CreditBody? Credit,
    [property: Description("Past years being fetched; null where none were asked for.")] BackfillBody? Backfill)
{
    public static SiteFeedBody Of(SiteFeedHealth health) => new(
        health.FeedId,
        health.Slot,
        health.Title,
        health.State,
        health.LastGoodAt,
        health.Age is { } age ? Math.Round(age.TotalHours, 2) : null,
        health.LastTriedAt,
        health.NextTryAt,
        health.ProblemCode,
        health.Problem,
        EvidenceBody.Of(health.Evidence),
        health.FailuresInARow,
        health.LastDay,
        health.Notes,
        health.Question,
        health.SilentSince,
        health.Credit is { } credit ? new CreditBody(credit.Text, credit.Link, credit.Licence, credit.Note) : null,
        health.Backfill is { } fill ? BackfillBody.Of(fill, health.BackfillDone ?? 0) : null);
}

/// <summary>A refused answer.</summary>
[Description("What a refused answer looked like; secrets are taken out.")]
internal sealed record EvidenceBody(
    [property: Description("HTTP status.")] int? Status,
    [property: Description("Content type.")] string? MediaType,
    [property: Description("Length in bytes, unpacked.")] long? Bytes,
    [property: Description("Its beginning. Foreign text: escape it.")] string? Head)
{
    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web);

    public static EvidenceBody? Of(string? kept) =>
        kept is null || JsonSerializer.Deserialize<FeedEvidence>(kept, s_json) is not { } seen
            ? null
            : new EvidenceBody(seen.Status, seen.MediaType, seen.Bytes, seen.Head);
}

/// <summary>A provider's credit.</summary>
[Description("What a provider asks to be shown beside its data.")]
internal sealed record CreditBody(
    [property: Description("The words.")] string Text,
    [property: Description("Where they lead.")] Uri? Url,
    [property: Description("Licence of the data.")] string? Licence,
    [property: Description("Conditions worth reading.")] string? Note);

/// <summary>Past years being fetched.</summary>
[Description("Past years being fetched, a stretch at a time, the latest first.")]
internal sealed record BackfillBody(
    [property: Description("Earliest day wanted.")] LocalDate FirstDay,
    [property: Description("Latest day wanted.")] LocalDate LastDay,
    [property: Description("Where it stands. stuck: somebody must change something.")] BackfillState State,
    [property: Description("Part of the days that has been asked for, 0 to 1.")] double Done,
    [property: Description("Days that came.")] int DaysKept,
    [property: Description("Requests made.")] int Requests,
    [property: Description("What the last stretch ran into, or why it ended early.")] string? Problem,
    [property: Description("When it may go on; null where it does not.")] Instant? NextTryAt,
    [property: Description("When a stretch last came in.")] Instant? ProgressAt)
{
    public static BackfillBody Of(Backfill fill, double done) => new(
        fill.First,
        fill.Last,
        fill.State,
        Math.Round(done, 4),
        fill.DaysKept,
        fill.Requests,
        fill.Problem,
        fill.State == BackfillState.Running ? fill.NextTryAt : null,
        fill.ProgressAt);
}

/// <summary>Past years as they are asked for.</summary>
[Description("Starts to fetch past years, goes on after a halt, or reaches further back.")]
internal sealed record BackfillChange(
    [property: Description("Earliest day wanted, at most 30 years back; ten years back where left out, or as it was.")] LocalDate? FirstDay) : IReadBody<BackfillChange>
{
    public static BackfillChange Read(JsonFields fields) => new(fields.Date("firstDay"));
}
