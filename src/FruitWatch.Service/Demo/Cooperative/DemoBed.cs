using FruitWatch.Model.Beds;
using FruitWatch.Service.Log;

namespace FruitWatch.Service.Demo.Cooperative;

/// <summary>A bed of the demo as it stands on the first morning. Days count back from that morning.</summary>
/// <param name="Site">Key of its site.</param>
/// <param name="Name">What its growers call it.</param>
/// <param name="Species">Key in the catalogue.</param>
/// <param name="Layers">What it was filled with, the lowest first: key in the catalogue and depth. [m]</param>
/// <param name="Area">[m²]</param>
/// <param name="Age">Since the spawn went in. [d]</param>
internal sealed record DemoBed(string Site, string Name, string Species, IReadOnlyList<(string Material, double Depth)> Layers, double Area, int Age)
{
    public double Shade { get; init; } = 0.4;

    /// <summary>Straw on top. [cm]</summary>
    public double StrawMulch { get; init; }

    public double Throughfall { get; init; } = 1;

    /// <summary>Cover on the day of inoculation.</summary>
    public Cover Cover { get; init; }

    /// <summary>For so many days before the first morning nobody has come by. [d]</summary>
    public int LeftAlone { get; init; }

    /// <summary>What is in its log for certain, whatever the weather was.</summary>
    public IReadOnlyList<Staged> Log { get; init; } = [];

    public static readonly IReadOnlyList<DemoBed> All =
    [
        new("fennhollow", "Bean row path", "wine-cap", [("hardwood-chips", 0.15)], 6, 47)
        {
            StrawMulch = 3,
            Log = [new(8, LogKinds.Mycelium, 1), new(6, LogKinds.Watered, 90)],
        },
        new("fennhollow", "Orchard edge", "wine-cap", [("hardwood-chips", 0.18)], 10, 585)
        {
            Log = [new(7, LogKinds.Pins)],
        },
        new("fennhollow", "Leaf bay", "wood-blewit", [("shredded-leaves", 0.12), ("composted-manure", 0.06)], 5, 510) { Shade = 0.45 },
        new("fennhollow", "Under the eaves", "wine-cap", [("hardwood-chips", 0.12)], 4, 120)
        {
            Shade = 0.3,
            Throughfall = 0.12,
            LeftAlone = 15,
            Log = [new(1, LogKinds.Squeeze, Text: "crumbles")],
        },
        new("fennhollow", "Compost strip", "shaggy-mane", [("composted-manure", 0.15)], 4, 130) { Shade = 0.3 },
        new("highstile", "Bale wall", "oyster-cold", [("cereal-straw", 0.3)], 3, 175)
        {
            Shade = 0.6,
            Log =
            [
                new(125, LogKinds.Mycelium, 1), new(118, LogKinds.Pins), new(111, LogKinds.Picked, 1.3), new(105, LogKinds.FlushOver),
                new(92, LogKinds.Pins), new(86, LogKinds.Picked, 0.8), new(80, LogKinds.FlushOver),
            ],
        },
        new("highstile", "Terrace straw", "oyster-cold", [("cereal-straw", 0.25)], 4, 62)
        {
            Cover = Cover.Sheet,
            LeftAlone = 30,
        },
        new("highstile", "Larch corner", "nameko", [("hardwood-chips", 0.16), ("sawdust", 0.04)], 6, 530)
        {
            Shade = 0.7,
            Throughfall = 0.7,
            Log = [new(30, LogKinds.Mycelium, 1)],
        },
        new("highstile", "Top path", "wine-cap", [("hardwood-chips", 0.15)], 8, 26) { StrawMulch = 4 },
        new("saltmerrow", "Bancal del aliso", "wine-cap", [("hardwood-chips", 0.1), ("cereal-straw", 0.08)], 7, 300) { LeftAlone = 10 },
        new("saltmerrow", "Shed side", "elm-oyster", [("cereal-straw", 0.22)], 3, 75) { Shade = 0.6, Cover = Cover.PiercedSheet },
        new("saltmerrow", "Rincón del viento", "shiitake", [("hardwood-chips", 0.2)], 5, 490)
        {
            Shade = 0.7,
            Throughfall = 0.8,
            Log = [new(21, LogKinds.Mycelium, 1)],
        },
        new("saltmerrow", "Hedge bottom", "wood-blewit", [("leaf-mould", 0.15)], 6, 380) { Shade = 0.5 },
    ];
}

/// <summary>An entry that a bed's log has for certain.</summary>
/// <param name="DaysBefore">Before the first morning. [d], at least 1</param>
/// <param name="Kind">See <see cref="LogKinds"/>.</param>
/// <param name="Amount">In the unit of the kind.</param>
/// <param name="Text">Where the kind asks for it.</param>
internal sealed record Staged(int DaysBefore, string Kind, double? Amount = null, string? Text = null);
