using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Demo.Cooperative;

/// <summary>A person of the demo: invented, with an address in a domain that is kept for examples (RFC 2606).</summary>
/// <param name="Name">What they are called.</param>
/// <param name="Email">Leads nowhere.</param>
/// <param name="Language">Two-letter code.</param>
/// <param name="Sites">Keys of the sites that they are told about.</param>
internal sealed record DemoGrower(string Name, string Email, string Language, IReadOnlyList<string> Sites)
{
    /// <summary>What they are in the cooperative.</summary>
    public Role Role { get; init; }

    public static readonly IReadOnlyList<DemoGrower> All =
    [
        new("Ilse Varrowby", "ilse@example.org", "en", ["fennhollow", "highstile", "saltmerrow"]) { Role = Role.Coordinator },
        new("Tobin Hasple", "tobin@example.org", "en", ["fennhollow"]),
        new("Rosalía Quimera", "rosalia@example.net", "es", ["fennhollow", "highstile"]) { Role = Role.FarmHand },
        new("Wenna Prothe", "wenna@example.org", "en", ["highstile"]),
        new("Efrén Baluarte", "efren@example.net", "es", ["saltmerrow"]),
        // A neighbour who reads along, and gets no mail.
        new("Odile Marchbank", "odile@example.org", "en", []) { Role = Role.Viewer },
    ];

    /// <summary>Whether a bed is their own: growers look after all beds of their sites.</summary>
    public bool Owns(DemoBed bed) => Role == Role.Grower && Sites.Contains(bed.Site);

    /// <summary>Those who work at a site.</summary>
    public static IReadOnlyList<DemoGrower> At(string site) => [.. All.Where(grower => grower.Sites.Contains(site))];
}
