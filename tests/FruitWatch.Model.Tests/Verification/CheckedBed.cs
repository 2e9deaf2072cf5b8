using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Tests.Account;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>The account's own moisture and temperature of a bed that is made as a check value asks for it.</summary>
internal static class CheckedBed
{
    private const double Depth = 0.15; // m

    private static readonly Material s_anyWater = Made.Chips with { ThetaLow = 0, ThetaCc = 0.9, Porosity = 1 };

    /// <summary>Wet basis of a bed by its dry basis. 0…1</summary>
    public static double WetBasisOf(double dryBasis) => WetBasisOf(dryBasis * s_anyWater.DryBulkDensity / 1000, s_anyWater.DryBulkDensity);

    /// <summary>Wet basis of a bed by water and dry bulk density. 0…1</summary>
    public static double WetBasisOf(double theta, double density) => Resting(s_anyWater with { ThetaCc = theta, DryBulkDensity = density }).WetBasis;

    /// <summary>Water per dry mass of a bed whose wet basis was measured. [kg/kg]</summary>
    public static double DryBasisOf(double wetBasis) => ThetaOf(wetBasis, 200) * 1000 / 200;

    /// <summary>Water of a bed whose wet basis was measured. [m³/m³]</summary>
    public static double ThetaOf(double wetBasis, double density) =>
        Resting(s_anyWater with { DryBulkDensity = density }, new MoistureMeasured(Made.Day0, wetBasis)).Water / (1000 * Depth);

    /// <summary>Air-filled porosity. [m³/m³]</summary>
    public static double AirOf(double theta, double porosity) => Resting(s_anyWater with { ThetaCc = theta, Porosity = porosity }).Air;

    /// <summary>Water between the lower limit and container capacity. [mm]</summary>
    public static double StoreOf(double depth, double thetaCc, double thetaLow)
    {
        var bed = Made.Bed(material: s_anyWater with { ThetaCc = thetaCc, ThetaLow = thetaLow }, depth: depth);
        return Made.Run(bed, Made.Same(1)).Days[0].AvailableStore;
    }

    /// <summary>Bed and soil after the row's days of air. [°C]</summary>
    public static (double Bed, double Soil) After(CheckJson x)
    {
        var end = Run(x, x["tb"], x["ts"], x.List("air"))[^1];
        return (end.BedTemperature, end.SoilTemperature);
    }

    /// <summary>Coefficients of the two boxes, from what one day does to a bed at rest under warm air, and to a cold bed on warm soil.</summary>
    public static (double A, double B, double C) Coefficients(CheckJson x)
    {
        var warmDay = Run(x, 0, 0, [10])[0];
        var warmSoil = Run(x, 0, 10, [0])[0];
        var soilShare = warmDay.SoilTemperature / warmDay.BedTemperature; // c/(1+c)
        var bedShare = warmSoil.BedTemperature / warmSoil.SoilTemperature; // b/(1+a+b)
        var taken = warmDay.BedTemperature / 10 * (1 - soilShare * bedShare); // a/(1+a+b)
        var rest = 1 - taken - bedShare; // 1/(1+a+b)
        return (taken / rest, bedShare / rest, soilShare / (1 - soilShare));
    }

    private static AccountDay Resting(Material material, params IEnumerable<LogEntry> log) =>
        Made.Run(Made.Bed(material: material, depth: Depth), Made.Same(1), log).Days[0];

    /// <summary>
    /// A bed of the row's conductivity and heat capacity, by way of the water and the density that the account makes them of.
    /// It starts as warm as the last 10 days' air and its soil as the last 60 days', so the weather before gives both.
    /// </summary>
    private static IReadOnlyList<AccountDay> Run(CheckJson x, double bedStart, double soilStart, double[] air)
    {
        var theta = (x["lamB"] - 0.04) / 0.51;
        var chips = Made.Chips with { ThetaCc = theta, DryBulkDensity = (x["cB"] - 4.18e6 * theta) / 1900 };
        var bed = Made.Bed(material: chips, depth: x["bed"]) with
        {
            MulchCm = 100 * x.Or("mulch", 0),
            Mulch = Made.Catalogue.Materials["cereal-straw"],
            Cover = x.Or("coverH", 0) == 6 ? Cover.Sheet : Cover.None,
        };
        var before = (60 * soilStart - 10 * bedStart) / 50;
        var weather = Enumerable.Range(-60, 60 + air.Length)
            .Select(day => Made.Weather(Made.Day0.PlusDays(day), day < -10 ? before : day < 0 ? bedStart : air[day]))
            .ToList();
        return Made.Run(bed, weather).Days;
    }
}
