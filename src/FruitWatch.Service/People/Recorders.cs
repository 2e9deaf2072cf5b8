using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.People;

/// <summary>
/// Who recorded an entry of a log: kept as the member's key, shown by the name that they have now. Texts from before there were members
/// are shown as they are.
/// </summary>
internal sealed class Recorders(FruitWatchStore store, Visitor visitor)
{
    /// <summary>Somebody who was a member, whoever it was.</summary>
    public const string Left = "former-member";

    private const string Prefix = "person:";
    private Dictionary<long, string>? names;

    /// <summary>The one who asks, as an entry keeps them; null where nobody is known.</summary>
    public string? Me => visitor.Person is { } person ? Of(person.Id) : null;

    /// <summary>A member as an entry keeps them.</summary>
    public static string Of(long personId) => string.Create(CultureInfo.InvariantCulture, $"{Prefix}{personId}");

    /// <summary>The member that an entry names; null where it names none.</summary>
    public static long? PersonOf(string? recordedBy) =>
        recordedBy?.StartsWith(Prefix, StringComparison.Ordinal) == true
        && long.TryParse(recordedBy.AsSpan(Prefix.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var id) ? id : null;

    /// <summary>Names of the cooperative's members; looked up once for a request.</summary>
    public async Task<Dictionary<long, string>> NamesAsync(CancellationToken stop) =>
        names ??= await store.People.AsNoTracking().ToDictionaryAsync(person => person.Id, person => person.Name, stop);

    /// <summary>Who recorded an entry, in words.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="names">See <see cref="NamesAsync"/>.</param>
    /// <param name="gone">What stands for somebody who is no member any more.</param>
    public static string? Name(LogEntry entry, IReadOnlyDictionary<long, string> names, string gone) =>
        PersonOf(entry.RecordedBy) is { } id ? names.GetValueOrDefault(id, gone) : entry.RecordedBy == Left ? gone : entry.RecordedBy;
}
