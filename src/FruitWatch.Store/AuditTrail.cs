using System.Globalization;
using System.Text.Json;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using NodaTime;

namespace FruitWatch.Store;

/// <summary>
/// Writes down who changed what. Whatever a member's store saves is told by itself, so that no new form or operation can forget it;
/// <see cref="Note"/> is for what leaves no changed row, such as an export or a refused sign-in.
/// </summary>
public static class AuditTrail
{
    private static readonly Dictionary<Type, string> s_subjects = new()
    {
        [typeof(Cooperative)] = "cooperative",
        [typeof(Site)] = "site",
        [typeof(Bed)] = "bed",
        [typeof(LogEntry)] = "log-entry",
        [typeof(Feed)] = "feed",
        [typeof(Person)] = "person",
        [typeof(PersonSite)] = "person-site",
        [typeof(PersonBedLeftOut)] = "person-bed-left-out",
        [typeof(BedGrower)] = "bed-grower",
        [typeof(Invitation)] = "invitation",
        [typeof(PersonalLink)] = "personal-link",
        [typeof(CalendarFeed)] = "calendar",
        [typeof(MailDeed)] = "mail-deed",
        [typeof(ApiToken)] = "token",
        [typeof(Webhook)] = "webhook",
    };

    /// <summary>Columns that change by use alone.</summary>
    private static readonly HashSet<string> s_silent = [nameof(IEdited.Version), nameof(INamed.Renamings), nameof(INamed.RenamedAt), nameof(ApiToken.LastUsedAt), nameof(Webhook.FailingSince)];

    /// <summary>Adds an entry to what is saved next.</summary>
    /// <param name="store">Where to.</param>
    /// <param name="at">When it was done.</param>
    /// <param name="action">Subject and deed, such as <c>cooperative.exported</c>.</param>
    /// <param name="subjectId">Key of what it was done to.</param>
    /// <param name="detail">Numbers, dates and words of ours; never a secret and no text of anybody's.</param>
    /// <param name="via">Which way they came, where the store was opened for nobody.</param>
    /// <param name="cooperativeId">In which cooperative, where the store was opened for nobody.</param>
    /// <param name="personId">Who did it, where the store was opened for nobody.</param>
    public static void Note(
        FruitWatchStore store,
        Instant at,
        string action,
        string? subjectId = null,
        object? detail = null,
        string? via = null,
        long? cooperativeId = null,
        long? personId = null)
    {
        ArgumentNullException.ThrowIfNull(store);
        var reach = store.Reach;
        store.Audit.Add(new AuditEntry
        {
            At = at,
            CooperativeId = cooperativeId ?? (reach.CooperativeId == 0 ? null : reach.CooperativeId),
            PersonId = personId ?? (reach.PersonId == 0 ? null : reach.PersonId),
            Via = via ?? reach.Via ?? "nobody",
            Action = action,
            SubjectId = subjectId,
            Detail = detail is null ? null : JsonSerializer.Serialize(detail),
        });
    }

    internal static IReadOnlyList<Change> Read(FruitWatchStore store)
    {
        // Written once: what is old is deleted by the night, all of a cooperative with the cooperative, and neither comes through here.
        if (store.ChangeTracker.Entries<AuditEntry>().Any(entry => entry.State is EntityState.Modified or EntityState.Deleted))
            throw new InvalidOperationException("An entry of the audit was to be changed.");
        if (store.Reach.Via is null)
            return [];
        var changes = new List<Change>();
        foreach (var entry in store.ChangeTracker.Entries())
        {
            if (!s_subjects.TryGetValue(entry.Entity.GetType(), out var subject))
                continue;
            var fields = entry.State == EntityState.Modified
                ? entry.Properties.Where(field => field.IsModified && !s_silent.Contains(field.Metadata.Name) && !Equals(field.OriginalValue, field.CurrentValue)).ToList()
                : [];
            // A new filling alone is a change of its bed.
            var filled = entry is { State: EntityState.Modified, Entity: Bed bed }
                && store.ChangeTracker.Entries<BedLayer>().Any(layer => layer.Entity.BedId == bed.Id && layer.State is not EntityState.Unchanged);
            var deed = entry.State switch
            {
                EntityState.Added => "made",
                EntityState.Deleted => "deleted",
                EntityState.Modified when fields.Count > 0 || filled => "changed",
                _ => null,
            };
            if (deed is not null)
                changes.Add(new Change(entry, $"{subject}.{deed}", fields.Count == 0 ? null : Told(fields)));
        }

        return changes;
    }

    internal static void Write(FruitWatchStore store, IReadOnlyList<Change> changes)
    {
        var at = store.Reach.Clock!.GetCurrentInstant();
        foreach (var change in changes)
        {
            var key = change.Row.Metadata.FindPrimaryKey()!.Properties.Select(part => Convert.ToString(change.Row.CurrentValues[part], CultureInfo.InvariantCulture));
            store.Audit.Add(new AuditEntry
            {
                At = at,
                CooperativeId = store.Reach.CooperativeId,
                PersonId = store.Reach.PersonId == 0 ? null : store.Reach.PersonId,
                Via = store.Reach.Via!,
                Action = change.Action,
                SubjectId = string.Join('/', key),
                Detail = change.Detail,
            });
        }
    }

    // Numbers, days and words of ours are told before and after; of text only that it changed: it may name somebody, or be a secret.
    private static string Told(List<PropertyEntry> fields) => JsonSerializer.Serialize(fields.ToDictionary(
        field => JsonNamingPolicy.CamelCase.ConvertName(field.Metadata.Name),
        field => field.Metadata.ClrType == typeof(string) || field.Metadata.ClrType == typeof(byte[])
            ? null
            : new[] { Shown(field.OriginalValue), Shown(field.CurrentValue) }));

    private static string? Shown(object? value) => value switch
    {
        null => null,
        Enum word => JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString()),
        LocalDate day => day.ToString("uuuu-MM-dd", CultureInfo.InvariantCulture),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture),
    };

    internal sealed record Change(EntityEntry Row, string Action, string? Detail);
}
