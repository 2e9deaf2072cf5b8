using System.Globalization;
using System.Text.Json;
using FruitWatch.Service.Access;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime.Text;

namespace FruitWatch.Service.Pages.Cooperatives;

/// <summary>Who did what, the last first. Names are looked up when it is read: who is gone has none.</summary>
[Right(Right.ManageCooperative)]
internal sealed class AuditModel(FruitWatchStore store, Words words) : PageModel
{
    private const int Most = 50;

    /// <summary>What can be asked for.</summary>
    public static readonly IReadOnlyList<string> Subjects =
        ["cooperative", "person", "person-site", "person-bed-left-out", "bed-grower", "invitation", "personal-link", "token", "sign-in", "site", "bed", "log-entry", "feed", "webhook"];

    public AuditAsked Asked { get; private set; } = new(null, null, null, null);

    /// <summary>The day that was asked for, in ISO form.</summary>
    public string? Since { get; private set; }

    public IReadOnlyList<(long Key, string Name)> People { get; private set; } = [];

    public IReadOnlyList<AuditTold> Told { get; private set; } = [];

    /// <summary>Address of older ones; null where there are none.</summary>
    public string? Older { get; private set; }

    public async Task OnGetAsync(string? person, string? subject, string? since, long? before, CancellationToken stop)
    {
        // What cannot be is left out of the question rather than refused: a page always shows something.
        Asked = AuditAsked.Read(Given(person), Given(subject), Given(since), []);
        Since = Asked.Since is { } day ? LocalDatePattern.Iso.Format(day.InUtc().Date) : null;
        People = [.. (await store.People.AsNoTracking().OrderBy(row => row.Name).Select(row => new { row.Id, row.Name }).ToListAsync(stop)).Select(row => (row.Id, row.Name))];
        var limit = before ?? long.MaxValue;
        var rows = await Asked.Of(store).Where(row => row.Id < limit).OrderByDescending(row => row.Id).Take(Most + 1).ToListAsync(stop);
        var names = await AuditNames.ReadAsync(store, rows, stop);
        Told = [.. rows.Take(Most).Select(row => Tell(row, names))];
        if (rows.Count > Most)
        {
            Older = "/cooperative/audit" + QueryString.Create(new Dictionary<string, string?>
            {
                ["person"] = Asked.PersonId?.ToString(CultureInfo.InvariantCulture),
                ["subject"] = Asked.Subject,
                ["since"] = Since,
                ["before"] = rows[Most - 1].Id.ToString(CultureInfo.InvariantCulture),
            }.Where(value => value.Value is not null));
        }
    }

    private AuditTold Tell(AuditEntry row, AuditNames names)
    {
        var parts = row.Action.Split('.', 2);
        var who = row.PersonId is { } key ? names.Of("person", key.ToString(CultureInfo.InvariantCulture)) ?? words.AuditGone(key) : words.AuditService;
        var subject = row.SubjectId is null ? null : names.Of(parts[0], row.SubjectId) ?? row.SubjectId;
        return new AuditTold(row, who, $"{words.AuditSubject(parts[0])}: {words.AuditDeed(parts.ElementAtOrDefault(1) ?? "")}", subject, [.. Details(row.Detail)]);
    }

    private IEnumerable<(string Field, string Change)> Details(string? detail)
    {
        if (detail is null)
            yield break;
        using var read = JsonDocument.Parse(detail);
        if (read.RootElement.ValueKind != JsonValueKind.Object)
            yield break;
        foreach (var field in read.RootElement.EnumerateObject())
        {
            yield return (field.Name, field.Value.ValueKind switch
            {
                JsonValueKind.Null => words.AuditNewText,
                JsonValueKind.Array => string.Join(" → ", field.Value.EnumerateArray().Select(one => one.ValueKind == JsonValueKind.Null ? "–" : one.ToString())),
                _ => field.Value.ToString(),
            });
        }
    }

    private static string? Given(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}

/// <summary>An entry as it is shown.</summary>
internal sealed record AuditTold(AuditEntry Row, string Who, string What, string? Subject, IReadOnlyList<(string Field, string Change)> Details);
