using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Text;

// Measures are kept in SI and said in the units of whoever reads: converted first, rounded once. Factors: NIST SP 811, appendix B.
internal abstract partial class Words
{
    /// <summary>Metres in an inch.</summary>
    public const double Inch = 0.0254;

    /// <summary>Litres in a US gallon.</summary>
    public const double Gallon = 3.785411784;

    /// <summary>Kilograms in a pound.</summary>
    public const double Pound = 0.45359237;

    private const double MillimetresAnInch = 25.4;
    private const double MetresASecondInAMileAnHour = 0.44704;
    private const double SquareFeetASquareMetre = 1 / (0.3048 * 0.3048);

    /// <summary>Units that measures are said in.</summary>
    public Units Units { get; }

    /// <summary>Sign of the degrees that temperatures are said in.</summary>
    public string DegreeSign => Us ? "°F" : "°C";

    /// <summary>Sign of the unit that rain is said in.</summary>
    public string RainSign => Us ? "in" : "mm";

    private bool Us => Units == Units.UsCustomary;

    /// <summary>A temperature as a number of the degrees it is said in. [°C]</summary>
    public double DegreesOf(double celsius) => Us ? celsius * 9 / 5 + 32 : celsius;

    /// <summary>A depth of water as a number of the unit it is said in. [mm]</summary>
    public double RainOf(double mm) => Us ? mm / MillimetresAnInch : mm;

    /// <summary>A temperature. [°C]</summary>
    public string Temperature(double celsius) => $"{Number(DegreesOf(celsius))}\u00a0{DegreeSign}";

    /// <summary>A temperature without its unit, where that stands beside it. [°C]</summary>
    public string BareTemperature(double celsius) => Number(DegreesOf(celsius));

    /// <summary>A temperature in a table. [°C]</summary>
    public string TableTemperature(double? celsius) => celsius is { } known ? $"{Number(DegreesOf(known), 1)}\u00a0{DegreeSign}" : "–";

    /// <summary>A depth of water. [mm]</summary>
    public string WaterDepth(double mm) => $"{Number(RainOf(mm), Us ? mm < MillimetresAnInch ? 2 : 1 : 0)}\u00a0{RainSign}";

    /// <summary>A depth of water in a table. [mm]</summary>
    public string TableWaterDepth(double? mm) => mm is { } known ? $"{Number(RainOf(known), Us ? 2 : 1)}\u00a0{RainSign}" : "–";

    /// <summary>A speed of the wind. [m/s]</summary>
    public string WindSpeed(double metresASecond) =>
        Us ? $"{Number(metresASecond / MetresASecondInAMileAnHour)}\u00a0mph" : $"{Number(metresASecond * 3.6)}\u00a0km/h";

    /// <summary>A volume of water. [L]</summary>
    public string Volume(double litres)
    {
        if (!Us)
            return LitresSaid(litres);
        var gallons = litres / Gallon;
        // Whole gallons where a watering can could tell the difference, tenths below.
        return GallonsSaid(gallons < 10 ? Math.Round(gallons, 1, MidpointRounding.AwayFromZero) : Math.Round(gallons, MidpointRounding.AwayFromZero));
    }

    /// <summary>Water by the ground that it is given to. [L/m²]</summary>
    public string WaterPerArea(double litres) => Us ? $"{Number(PerArea(litres), 1)}\u00a0{PerAreaSign}" : $"{Number(litres)}\u00a0{PerAreaSign}";

    /// <summary>The same as a number of its unit. [L/m²]</summary>
    public double PerArea(double litres) => Us ? litres / Gallon / SquareFeetASquareMetre * 100 : litres;

    /// <summary>Its unit.</summary>
    public string PerAreaSign => Us ? UsPerAreaSign : "L/m²";

    /// <summary>Ground. [m²]</summary>
    public string Area(double squareMetres) =>
        Us ? $"{Number(squareMetres * SquareFeetASquareMetre)}\u00a0{SquareFeetSign}" : $"{Number(squareMetres, 1)}\u00a0m²";

    protected abstract string LitresSaid(double litres);

    protected abstract string GallonsSaid(double gallons);

    /// <summary>Gallons for a hundred square feet.</summary>
    protected abstract string UsPerAreaSign { get; }

    protected abstract string SquareFeetSign { get; }
}
