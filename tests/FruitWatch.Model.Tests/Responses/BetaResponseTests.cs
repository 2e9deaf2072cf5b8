using System.Numerics;
using CsCheck;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Responses;

namespace FruitWatch.Model.Tests.Responses;

public class BetaResponseTests
{
    /// <summary>
    /// Responses worked out separately from the equation of Yin et al. 1995 with exponent 1, printed to two decimals, on
    /// cardinals fitted to published growth limits and optima.
    /// </summary>
    [Theory]
    [InlineData("Stropharia rugosoannulata", 5, 26.0, 36, 0.13, 0.44, 0.79, 0.86)]
    [InlineData("Pleurotus ostreatus", 5, 26.1, 37, 0.15, 0.48, 0.81, 0.89)]
    [InlineData("Pleurotus pulmonarius", 10, 27.5, 37, 0, 0.23, 0.64, 0.94)]
    [InlineData("Pleurotus citrinopileatus", 7, 25.0, 32, 0.03, 0.30, 0.74, 0.54)]
    [InlineData("Pleurotus djamor", 10, 26.9, 40, 0, 0.39, 0.77, 0.95)]
    [InlineData("Collybia nuda", 4.4, 22.5, 30, 0.16, 0.55, 0.93, 0)]
    [InlineData("Lentinula edodes", 5, 25.0, 35, 0.16, 0.50, 0.84, 0.78)]
    [InlineData("Agaricus subrufescens", 10, 29.6, 37, 0, 0.08, 0.39, 1.00)]
    [InlineData("Coprinus comatus", 3, 24.5, 35, 0.24, 0.58, 0.88, 0.76)]
    [InlineData("Pholiota microspora", 5, 25.0, 33, 0.09, 0.40, 0.79, 0.66)]
    [InlineData("Hypholoma lateritium", 5, 24.1, 32, 0.11, 0.46, 0.85, 0.48)]
    [InlineData("Hericium erinaceus", 3, 25.5, 37, 0.24, 0.56, 0.85, 0.87)]
    public void Agrees_with_the_worked_responses_at_10_15_20_and_30(
        string species, double tBase, double tOpt, double tCeiling, double at10, double at15, double at20, double at30)
    {
        // The optimum is printed to 0.1 °C: the worked value lies between the curves of what it may have been rounded from.
        double[] printed = [at10, at15, at20, at30];
        for (var i = 0; i < printed.Length; i++)
        {
            var t = new double[] { 10, 15, 20, 30 }[i];
            var early = Curve(tBase, tOpt - 0.05, tCeiling, 1).At(t);
            var late = Curve(tBase, tOpt + 0.05, tCeiling, 1).At(t);
            Assert.InRange(printed[i], Math.Min(early, late) - 0.005, Math.Max(early, late) + 0.005);
        }

        Assert.Equal(1, Curve(tBase, tOpt, tCeiling, 1).At(tOpt), 1e-12);
        Assert.NotEmpty(species);
    }

    /// <summary>
    /// Mean growth of 28 strains of the Pleurotus eryngii complex on agar, mm/day at 15, 20, 25 and 30 °C: Soylu, Boztok and
    /// Esiyok 2016, Acta Hort. 1123:207–214. Two fits of the curve to it, with the residuals (curve less measured) stated.
    /// </summary>
    [Theory]
    [InlineData(5, 25.5, 32.8, 1, 3.51, 0.24, -0.28, 0.15, -0.03, 0.20)]
    [InlineData(5, 25.0, 35, 1.68, 3.50, 0.18, -0.22, 0.15, -0.06, 0.17)]
    public void Gives_the_stated_residuals_to_measured_growth(
        double tBase, double tOpt, double tCeiling, double q, double fastest, double at15, double at20, double at25, double at30, double rmse)
    {
        var response = Curve(tBase, tOpt, tCeiling, q);
        double[] measured = [0.90, 2.84, 3.35, 2.39];
        var residuals = measured.Select((rate, i) => fastest * response.At(15 + 5 * i) - rate).ToArray();

        // An optimum printed to 0.1 °C moves the curve at 15 °C by up to 0.02 mm/day.
        Assert.Equal([at15, at20, at25, at30], residuals, (x, y) => Math.Abs(x - y) <= 0.02);
        Assert.Equal(rmse, Math.Sqrt(residuals.Average(r => r * r)), 0.01);
    }

    /// <summary>The same strains: fitted by least squares with exponent 1 it gives 1.57 mm/day at 15 °C, where 0.90 was measured.</summary>
    [Fact]
    public void With_exponent_1_it_overstates_the_cool_growth_of_the_measured_strains()
    {
        double[] measured = [0.90, 2.84, 3.35, 2.39];
        var response = measured.Select((_, i) => Curve(5, 25, 35, 1).At(15 + 5 * i)).ToArray();
        var fastest = measured.Zip(response, (m, r) => m * r).Sum() / response.Sum(r => r * r);

        Assert.Equal(1.57, fastest * response[0], 0.005);
    }

    [Fact]
    public void Is_nothing_at_and_outside_its_limits_and_whole_at_its_optimum()
    {
        var response = Curve(5, 26, 36, 1.3);

        Assert.Equal([0, 0, 0, 0], new double[] { -20, 5, 36, 60 }.Select(response.At));
        Assert.Equal(1, response.At(26), 1e-12);
    }

    [Fact]
    public void Rises_up_to_the_optimum_falls_after_it_and_stays_between_0_and_1() =>
        Gen.Select(Gen.Double[-5, 12], Gen.Double[5, 20], Gen.Double[1, 20], Gen.Double[1, 1.7], Gen.Double[-10, 60])
            .Sample((tBase, rise, fall, q, t) =>
            {
                var response = Curve(tBase, tBase + rise, tBase + rise + fall, q);
                var here = response.At(t);
                var nearer = response.At(t + (t < tBase + rise ? 0.01 : -0.01));
                return here is >= 0 and <= 1 + 1e-12 && nearer >= here - 1e-9;
            });

    [Fact]
    public void Many_at_once_agree_with_one_at_a_time() =>
        Gen.Select(Gen.Double[-5, 12], Gen.Double[1, 25], Gen.Double[0.5, 20], Gen.Double[1, 1.7], Gen.Double[-10, 60].Array[Vector<double>.Count])
            .Sample((tBase, rise, fall, q, temperatures) =>
            {
                var response = Curve(tBase, tBase + rise, tBase + rise + fall, q);
                var together = response.At(new Vector<double>(temperatures));
                return temperatures.Select((t, lane) => Math.Abs(together[lane] - response.At(t))).Max() <= 1e-12;
            });

    [Fact]
    public void Many_at_once_are_nothing_at_the_limits_themselves()
    {
        var response = Curve(5, 26, 36, 1.3);

        Assert.Equal(Vector<double>.Zero, response.At(new Vector<double>(5)));
        Assert.Equal(Vector<double>.Zero, response.At(new Vector<double>(36)));
    }

    private static BetaResponse Curve(double tBase, double tOpt, double tCeiling, double q) =>
        new(new SpawnRun(tBase, tOpt, tCeiling, q, DaysAtOptimum: 28, SpawnRate: 1.5, EarliestReadyDays: 30, THarm: 34));
}
