namespace FruitWatch.Feeds.Describing;

/// <summary>What kind of thing a unit measures.</summary>
internal enum UnitQuantity
{
    Temperature,
    Depth,
    Share,
}

/// <summary>A unit a feed may use, by its UCUM code, and the way from it to the model's unit (°C, mm, %).</summary>
/// <param name="Code">UCUM code, case-sensitive.</param>
/// <param name="Quantity">What it measures.</param>
/// <param name="Factor">One of the unit in the model's unit.</param>
/// <param name="Zero">Where the model's zero lies, in the unit itself: 32 for °F.</param>
/// <param name="Aliases">Other spellings that feeds use.</param>
internal sealed record Unit(string Code, UnitQuantity Quantity, double Factor, double Zero, IReadOnlyList<string> Aliases)
{
    // Factors: 5/9 and 32 (°F), 273.15 (K), 25.4 mm to the inch are exact by definition (BIPM SI brochure; NIST SP 811 app. B).
    public static IReadOnlyList<Unit> All { get; } =
    [
        new("Cel", UnitQuantity.Temperature, 1, 0, ["°C", "celsius", "celcius", "degC", "C", "wmoUnit:degC", "unit:degC"]),
        new("[degF]", UnitQuantity.Temperature, 5.0 / 9, 32, ["°F", "fahrenheit", "degF", "F", "wmoUnit:degF", "unit:degF"]),
        new("K", UnitQuantity.Temperature, 1, 273.15, ["kelvin", "wmoUnit:K", "unit:K"]),
        new("mm", UnitQuantity.Depth, 1, 0, ["kg/m2", "kg m-2", "kg/m²", "l/m2", "l/m²", "wmoUnit:mm", "unit:mm", "millimetre", "millimeter"]),
        new("cm", UnitQuantity.Depth, 10, 0, ["wmoUnit:cm", "centimetre", "centimeter"]),
        new("m", UnitQuantity.Depth, 1000, 0, ["wmoUnit:m", "unit:m", "metre", "meter"]),
        new("[in_i]", UnitQuantity.Depth, 25.4, 0, ["inch", "in", "inches"]),
        new("%", UnitQuantity.Share, 1, 0, ["percent", "wmoUnit:percent", "unit:percent"]),
    ];

    /// <summary>A value of this unit in the model's unit.</summary>
    public double ToModel(double value) => (value - Zero) * Factor;

    public static Unit? ByCode(string code) => All.FirstOrDefault(unit => unit.Code == code);

    /// <summary>
    /// The unit a feed declares, by code or alias. Short spellings differ by case ("K", "m"), so only words of four letters
    /// and more are compared without regard to it.
    /// </summary>
    public static Unit? Declared(string text) => All.FirstOrDefault(unit =>
        unit.Code == text
        || unit.Aliases.Contains(text, StringComparer.Ordinal)
        || (text.Length >= 4 && unit.Aliases.Contains(text, StringComparer.OrdinalIgnoreCase)));
}
