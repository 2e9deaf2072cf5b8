namespace FruitWatch.Model.Catalogue;

/// <summary>A bed material. Water contents are volumes of water per volume of bed. [m³/m³]</summary>
/// <param name="Key">Stable name in the catalogue and in the store, such as <c>hardwood-chips</c>.</param>
/// <param name="Name">The trade's English name.</param>
/// <param name="DryBulkDensity">Dry mass per volume, settled. [kg/m³]</param>
/// <param name="Porosity">Space between and inside the pieces. [m³/m³]</param>
/// <param name="ThetaCc">Water held after draining: container capacity.</param>
/// <param name="ThetaWater">Water at which a grower should water.</param>
/// <param name="ThetaLow">Practical lower limit of drying.</param>
/// <param name="Settling">Share of the depth lost by settling in the first year.</param>
/// <param name="Decay">Loss of dry mass. [1/year]</param>
/// <param name="DrainDays">Time constant of draining above container capacity. [d]</param>
/// <param name="FlushLife">Flushes that a filling gives before it is spent.</param>
/// <param name="MulchStorePerCm">Water that it holds as a mulch. [mm per cm]</param>
public sealed record Material(
    string Key,
    string Name,
    double DryBulkDensity,
    double Porosity,
    double ThetaCc,
    double ThetaWater,
    double ThetaLow,
    double Settling,
    double Decay,
    double DrainDays,
    int FlushLife,
    double MulchStorePerCm)
{
    /// <summary>Where each value comes from: field name in the catalogue file to source.</summary>
    public IReadOnlyDictionary<string, string> Sources { get; init; } = new Dictionary<string, string>();

    /// <summary>Names in other languages, by two-letter language code.</summary>
    public IReadOnlyDictionary<string, string> Names { get; init; } = new Dictionary<string, string>();

    /// <summary>Its name in a language; the English one where there is none.</summary>
    public string NameIn(string language) => Names.GetValueOrDefault(language, Name);
}
