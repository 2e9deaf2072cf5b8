using System.ComponentModel;
using System.Globalization;
using System.Text.Json;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Cooperatives;

/// <summary>Who did what, in the web API.</summary>
internal static class AuditApi
{
    public static void MapAudit(this IEndpointRouteBuilder api) =>
        api.MapGet("/audit", ListAsync).Needs(Right.ManageCooperative).WithTags("Cooperative").WithName("ListAudit")
            .WithSummary("Who did what in the cooperative, the last first; kept for two years.").Refusing(400);

    private static async Task<Results<Ok<Listing<AuditBody>>, ProblemHttpResult>> ListAsync(
        FruitWatchStore store,
        HttpContext context,
        [Description("Only what this person did: their key, also of one who has been removed.")] string? personId,
        [Description("Only what was done to this kind of thing, such as bed, or to one of them, such as bed/12.")] string? subject,
        [Description("Only from this day on, in UTC.")] string? since,
        [Description("At most so many, 1 to 200; 50 where left out.")] string? limit,
        [Description("From next of the last part.")] string? cursor)
    {
        var errors = new Dictionary<string, string[]>();
        var paging = Paging.Read(limit, cursor, errors);
        var asked = AuditAsked.Read(personId, subject, since, errors);
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        var before = paging.After ?? long.MaxValue;
        var rows = await asked.Of(store).Where(row => row.Id < before).OrderByDescending(row => row.Id).Take(paging.Limit + 1).ToListAsync(context.RequestAborted);
        return TypedResults.Ok(paging.Cut(rows, row => row.Id, AuditBody.Of, context.Request));
    }
}

/// <summary>What of the audit is asked for.</summary>
internal sealed record AuditAsked(long? PersonId, string? Subject, string? SubjectId, Instant? Since)
{
    private const int LongestSubject = 60;

    public static AuditAsked Read(string? personId, string? subject, string? since, Dictionary<string, string[]> errors)
    {
        long? person = null;
        if (personId is not null)
        {
            if (long.TryParse(personId, NumberStyles.None, CultureInfo.InvariantCulture, out var key))
                person = key;
            else
                errors["personId"] = ["Expected the key of a person."];
        }

        var parts = subject?.Split('/', 2) ?? [];
        if (subject is not null && (subject.Length > LongestSubject || parts[0].Length == 0 || parts[0].Any(c => !char.IsAsciiLetterLower(c) && c != '-')))
            errors["subject"] = ["Expected a kind of thing such as bed, or one of them such as bed/12."];
        var day = ApiText.Day("since", since, errors);
        return new AuditAsked(person, parts.ElementAtOrDefault(0), parts.ElementAtOrDefault(1), day?.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant());
    }

    public IQueryable<AuditEntry> Of(FruitWatchStore store)
    {
        var rows = store.Audit.AsNoTracking();
        if (PersonId is { } person)
            rows = rows.Where(row => row.PersonId == person);
        if (Subject is { } subject)
        {
            var prefix = subject + ".";
            rows = rows.Where(row => row.Action.StartsWith(prefix));
        }

        if (SubjectId is { } key)
            rows = rows.Where(row => row.SubjectId == key);
        if (Since is { } since)
            rows = rows.Where(row => row.At >= since);
        return rows;
    }
}

/// <summary>An entry of the audit as the API gives it.</summary>
[Description("Something that was done.")]
internal sealed record AuditBody(
    [property: Description("Key; in the order in which things happened.")] long Id,
    [property: Description("When.")] Instant At,
    [property: Description("Key of who did it, kept when the person is gone; null for the service, the terminal or somebody unknown.")] long? PersonId,
    [property: Description("Which way they came: session, token:12, link:3, terminal, nobody.")] string Via,
    [property: Description("What was done: subject and deed, such as bed.changed.")] string Action,
    [property: Description("Key of what it was done to.")] string? SubjectId,
    [property: Description("More about it, such as the fields that changed: numbers, days and words as they were and are, of text only that it changed.")] JsonElement? Detail)
{
    public static AuditBody Of(AuditEntry row) => new(
        row.Id, row.At, row.PersonId, row.Via, row.Action, row.SubjectId, row.Detail is null ? null : JsonDocument.Parse(row.Detail).RootElement);
}
