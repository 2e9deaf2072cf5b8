using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>A strain as it truly is, which is not as the catalogue has its species.</summary>
/// <remarks>
/// Chosen spreads, no source: temperatures 1 °C; days of pinning, growing and resting 15 %; water of the soak and the fall of
/// temperature 20 %. All are standard deviations, of the logarithm where they are shares.
/// </remarks>
internal static class TrueStrain
{
    private const double Temperature = 1;
    private const double Days = 0.15;
    private const double Trigger = 0.20;

    /// <summary>Draws a strain.</summary>
    /// <param name="species">The catalogue's.</param>
    /// <param name="spread">Share of the spreads; 0 for the catalogue's own.</param>
    /// <param name="draws">The same number is taken whatever the spread.</param>
    public static Species Of(Species species, double spread, Draws draws)
    {
        var warmer = spread * Temperature * draws.Normal();
        var (pinning, growing, resting) = (Factor(Days), Factor(Days), Factor(Days));
        var (soak, cooling) = (Factor(Trigger), Factor(Trigger));
        return species with
        {
            Pinning = new Pinning(Warmer(species.Pinning.Band), species.Pinning.Days * pinning),
            Growing = species.Growing with { Band = Warmer(species.Growing.Band), Days = species.Growing.Days * growing },
            RestingDays = species.RestingDays * resting,
            Triggers = species.Triggers with
            {
                Soak = species.Triggers.Soak is { } soaked ? soaked with { Mm = soaked.Mm * soak } : null,
                Cooling = species.Triggers.Cooling is { } cooled
                    ? new CoolingTrigger(cooled.Delta * cooling, cooled.Mark + warmer)
                    : null,
            },
        };

        double Factor(double sigma) => Math.Exp(spread * sigma * draws.Normal());
        Band Warmer(Band band) => new(band.ZeroBelow + warmer, band.FullFrom + warmer, band.FullTo + warmer, band.ZeroAbove + warmer);
    }
}
