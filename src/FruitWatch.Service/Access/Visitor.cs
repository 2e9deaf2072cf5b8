using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Access;

/// <summary>Who is asking: one for each request. Nobody until <see cref="VisitorFinding"/> has looked.</summary>
internal sealed class Visitor
{
    private HashSet<Right> rights = [];

    /// <summary>The member; null where nobody is signed in, or one who is no member anywhere.</summary>
    public Person? Person { get; private set; }

    /// <summary>Their cooperative.</summary>
    public Cooperative? Cooperative { get; private set; }

    /// <summary>What they signed in with; null for a token, a personal link, or nobody.</summary>
    public long? AccountId { get; private set; }

    /// <summary>Which way they came: <c>session</c>, <c>token:12</c>, <c>link:3</c>; null for nobody.</summary>
    public string? Via { get; private set; }

    /// <summary>They came from a personal link, without a password.</summary>
    public bool FromLink => Via?.StartsWith("link:", StringComparison.Ordinal) == true;

    public bool May(Right right) => rights.Contains(right);

    public void Is(Person? person, Cooperative? cooperative, long? accountId, string via, IEnumerable<Right> granted)
    {
        (Person, Cooperative, AccountId, Via, rights) = (person, cooperative, accountId, via, [.. granted]);
    }
}
