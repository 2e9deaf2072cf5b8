namespace FruitWatch.Service.Demo.Cooperative;

/// <summary>A person of the demo: invented, with an address in a domain that is kept for examples (RFC 2606).</summary>
/// <param name="Name">What they are called.</param>
/// <param name="Email">Leads nowhere.</param>
/// <param name="Language">Two-letter code.</param>
/// <param name="Sites">Keys of the sites that they are told about.</param>
internal sealed record DemoGrower(string Name, string Email, string Language, IReadOnlyList<string> Sites)
{
    /// <summary>Told what concerns feeds and sites rather than a bed.</summary>
    public bool Coordinator { get; init; }

    public static readonly IReadOnlyList<DemoGrower> All =
    [
        new("Ilse Varrowby", "ilse@example.org", "en", ["fennhollow", "highstile", "saltmerrow"]) { Coordinator = true },
        new("Tobin Hasple", "tobin@example.org", "en", ["fennhollow"]),
        new("Rosalía Quimera", "rosalia@example.net", "es", ["fennhollow", "highstile"]),
        new("Wenna Prothe", "wenna@example.org", "en", ["highstile"]),
        new("Efrén Baluarte", "efren@example.net", "es", ["saltmerrow"]),
    ];

    /// <summary>Those who work at a site.</summary>
    public static IReadOnlyList<DemoGrower> At(string site) => [.. All.Where(grower => grower.Sites.Contains(site))];
}
