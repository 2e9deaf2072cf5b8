using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using NodaTime;

namespace FruitWatch.Store;

/// <summary>
/// How far a piece of work sees, and in whose name it is done. A new one sees nothing of any cooperative; it is told once for whom
/// it is. The one place that keeps cooperatives apart: <see cref="Mapping.Bounds"/> puts it into every query.
/// </summary>
public sealed class Reach
{
    /// <summary>The service's own work, in nobody's name: everything.</summary>
    public static Reach Everything { get; } = new() { Unbounded = true };

    /// <summary>Sees everything of everybody.</summary>
    public bool Unbounded { get; private init; }

    /// <summary>The only cooperative that is seen; 0 for none.</summary>
    public long CooperativeId { get; private set; }

    /// <summary>Who it is for; 0 while nobody is known.</summary>
    public long PersonId { get; private set; }

    /// <summary>Sees only the sites that the person is told about.</summary>
    public bool OwnSitesOnly { get; private set; }

    /// <summary>Sees only the beds that are the person's own.</summary>
    public bool OwnBedsOnly { get; private set; }

    /// <summary>Sees only the mails that went to the person.</summary>
    public bool OwnMailsOnly { get; private set; }

    /// <summary>Which way they came, for the audit: <c>session</c>, <c>token:12</c>, <c>link:3</c>, <c>terminal</c>; null where nothing is recorded.</summary>
    public string? Via { get; private set; }

    internal IClock? Clock { get; private set; }

    /// <summary>Opens it for a member.</summary>
    /// <param name="person">Who.</param>
    /// <param name="growersReadAll">Whether growers of the cooperative may read each other's beds.</param>
    /// <param name="via">Which way they came; see <see cref="Via"/>.</param>
    /// <param name="clock">When they do what they do.</param>
    /// <exception cref="InvalidOperationException">It was opened for somebody before.</exception>
    public void Open(Person person, bool growersReadAll, string via, IClock clock)
    {
        ArgumentNullException.ThrowIfNull(person);
        Claim(via, clock);
        CooperativeId = person.CooperativeId;
        PersonId = person.Id;
        OwnBedsOnly = person.Role == Role.Grower && !growersReadAll;
        OwnSitesOnly = OwnBedsOnly || person.Role == Role.FarmHand;
        OwnMailsOnly = person.Role != Role.Coordinator;
    }

    /// <summary>Opens it for the whole of a cooperative, as a command of the terminal does.</summary>
    /// <exception cref="InvalidOperationException">It was opened for somebody before.</exception>
    public void Open(long cooperativeId, string via, IClock clock)
    {
        Claim(via, clock);
        CooperativeId = cooperativeId;
    }

    /// <summary>A row of another cooperative is never written, whatever a caller has mixed up.</summary>
    internal void Hold(ChangeTracker changes)
    {
        if (Unbounded)
            return;
        foreach (var entry in changes.Entries())
        {
            if (entry.State is EntityState.Unchanged or EntityState.Detached || entry.Metadata.FindProperty(nameof(Site.CooperativeId)) is not { } property)
                continue;
            // A mail or an audit entry of the service itself belongs to none.
            if (entry.CurrentValues[property] is long owner && owner != CooperativeId)
                throw new InvalidOperationException($"A {entry.Metadata.ClrType.Name} of cooperative {owner} was to be written for cooperative {CooperativeId}.");
        }
    }

    private void Claim(string via, IClock clock)
    {
        if (Unbounded || Via is not null)
            throw new InvalidOperationException("The reach was opened before.");
        Via = via;
        Clock = clock;
    }
}
