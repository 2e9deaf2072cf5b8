using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Account;

/// <summary>
/// Heat conduction in one dimension, hour by hour, through mulch, bed and 2.5 m of soil: a second way to the bed's
/// temperature that shares nothing with the account's two boxes but the materials' properties.
/// </summary>
/// <remarks>
/// Fourier's law on cells, halfway between explicit and implicit in time (Crank and Nicolson). Above: exchange with the air, 15 W/m²/K, through a sheet if there
/// is one. Below: no flow. Air through the day: half cosines from the minimum at 05 h to the maximum at 15 h and on to the
/// next minimum.
/// </remarks>
internal sealed class Conduction
{
    private const double Hour = 3600; // s

    private readonly List<(double Thickness, double Conductivity, double Heat)> cells = [];
    private readonly double aboveResistance;
    private readonly int bedFrom;
    private readonly int bedTo;
    private readonly double[] temperature;
    private readonly double[] upper;
    private readonly double[] right;

    /// <param name="mulch">Depth of mulch. [m]</param>
    /// <param name="bed">Depth of the bed. [m]</param>
    /// <param name="conductivity">Of the bed. [W/m/K]</param>
    /// <param name="heat">Of the bed. [J/m³/K]</param>
    /// <param name="sheet">Whether a sheet lies over it, with still air below.</param>
    /// <param name="start">Temperature everywhere at the start. [°C]</param>
    public Conduction(double mulch, double bed, double conductivity, double heat, bool sheet, double start)
    {
        aboveResistance = 1.0 / 15 + (sheet ? 1.0 / 6 : 0);
        Add(mulch, 0.01, 0.15, 0.4e6);
        bedFrom = cells.Count;
        Add(bed, 0.01, conductivity, heat);
        bedTo = cells.Count;
        Add(0.4, 0.02, 1.0, 2.3e6);
        Add(2.1, 0.1, 1.0, 2.3e6);
        temperature = new double[cells.Count];
        Array.Fill(temperature, start);
        upper = new double[cells.Count];
        right = new double[cells.Count];
    }

    /// <summary>Mean of the bed over its depth and over each day, and its range within the day. [°C]</summary>
    public List<(double Mean, double Range)> Run(IReadOnlyList<WeatherDay> days)
    {
        var result = new List<(double, double)>();
        for (var day = 0; day < days.Count; day++)
        {
            double sum = 0, low = double.MaxValue, high = double.MinValue;
            for (var hour = 1; hour <= 24; hour++)
            {
                Advance(AirAt(days, day, hour - 1), AirAt(days, day, hour));
                var now = BedMean();
                sum += now;
                low = Math.Min(low, now);
                high = Math.Max(high, now);
            }

            result.Add((sum / 24, high - low));
        }

        return result;
    }

    private static double AirAt(IReadOnlyList<WeatherDay> days, int day, double hour)
    {
        var (low, high) = (days[day].Tmin!.Value, days[day].Tmax!.Value);
        if (hour < 5)
            return Between(days[Math.Max(0, day - 1)].Tmax!.Value, low, (hour + 9) / 14);
        return hour <= 15
            ? Between(low, high, (hour - 5) / 10)
            : Between(high, days[Math.Min(days.Count - 1, day + 1)].Tmin!.Value, (hour - 15) / 14);
    }

    private static double Between(double from, double to, double share) => from + (to - from) * (1 - Math.Cos(Math.PI * share)) / 2;

    private void Add(double thickness, double cell, double conductivity, double heat)
    {
        var count = (int)Math.Round(thickness / cell);
        for (var i = 0; i < count; i++)
            cells.Add((thickness / count, conductivity, heat));
    }

    private double BedMean()
    {
        double sum = 0, depth = 0;
        for (var i = bedFrom; i < bedTo; i++)
        {
            sum += temperature[i] * cells[i].Thickness;
            depth += cells[i].Thickness;
        }

        return sum / depth;
    }

    /// <summary>One hour: the tridiagonal system of the step, solved by elimination.</summary>
    private void Advance(double airBefore, double airNow)
    {
        var n = cells.Count;
        for (var i = 0; i < n; i++)
        {
            var capacity = cells[i].Heat * cells[i].Thickness / Hour;
            var above = 0.5 / (i == 0 ? aboveResistance + Half(0) : Half(i - 1) + Half(i));
            var below = i == n - 1 ? 0 : 0.5 / (Half(i) + Half(i + 1));
            var diagonal = capacity + above + below;
            var flows = above * ((i == 0 ? airBefore : temperature[i - 1]) - temperature[i])
                + below * ((i == n - 1 ? 0 : temperature[i + 1]) - temperature[i]);
            var known = capacity * temperature[i] + flows + (i == 0 ? above * airNow : 0);
            if (i > 0)
            {
                diagonal -= above * upper[i - 1];
                known += above * right[i - 1];
            }

            upper[i] = below / diagonal;
            right[i] = known / diagonal;
        }

        temperature[n - 1] = right[n - 1];
        for (var i = n - 2; i >= 0; i--)
            temperature[i] = right[i] + upper[i] * temperature[i + 1];
    }

    private double Half(int cell) => cells[cell].Thickness / 2 / cells[cell].Conductivity;
}
