using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>What a backtest replays.</summary>
public sealed record BacktestSetting
{
    /// <summary>Years of weather below which there is nothing to replay: one is forecast, and the usual weather needs two others.</summary>
    public const int FewestYears = 3;

    /// <summary>Leads that are scored where nothing else is asked for. [d]</summary>
    public static IReadOnlyList<int> UsualLeads { get; } = [3, 7, 14, 30];

    /// <summary>A site's past: complete days, one after another.</summary>
    public required IReadOnlyList<WeatherDay> Weather { get; init; }

    /// <summary>Rule for the reference evapotranspiration; brings the site's latitude.</summary>
    public required EvaporationLadder Ladder { get; init; }

    /// <summary>What is grown.</summary>
    public required IReadOnlyList<Species> Species { get; init; }

    /// <summary>Materials, covers, spreads and errors.</summary>
    public required BedCatalogue Catalogue { get; init; }

    /// <summary>Beds of each species that are made in each year: spring and autumn in turn. At least 1.</summary>
    public int BedsPerYear { get; init; } = 4;

    /// <summary>Outlooks are issued on every so many days. At least 1. [d]</summary>
    public int Every { get; init; } = 3;

    /// <summary>Within how many days pins are forecast, the day of issue included; ascending. [d]</summary>
    public IReadOnlyList<int> Leads { get; init; } = UsualLeads;

    /// <summary>
    /// How far the true species is from the catalogue's, beyond the two multipliers: 0 not at all, 1 by the spreads of
    /// <see cref="TrueStrain"/>. The forecaster knows nothing of it and cannot learn it.
    /// </summary>
    public double StrainSpread { get; init; }

    /// <summary>Seed of every draw.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Most threads to use; 0 for one a processor. The result does not depend on it.</summary>
    public int Threads { get; init; }

    internal void Check()
    {
        if (Species.Count == 0)
            throw new ArgumentException("No species was asked for; name at least one.");
        if (BedsPerYear < 1 || Every < 1)
            throw new ArgumentException("A backtest needs at least one bed a year and an outlook every so many days, 1 or more.");
        if (Leads.Count == 0 || Leads[0] < 1 || Leads[^1] > BacktestRun.OutlookDays || Leads.Zip(Leads.Skip(1)).Any(pair => pair.First >= pair.Second))
            throw new ArgumentException(FormattableString.Invariant($"Leads are whole days from 1 to {BacktestRun.OutlookDays}, in ascending order."));
        if (!(StrainSpread is >= 0 and <= 3))
            throw new ArgumentException(FormattableString.Invariant($"The spread of the strains is {StrainSpread}; expected 0 to 3."));
        for (var i = 1; i < Weather.Count; i++)
        {
            if (Weather[i].Date != Weather[i - 1].Date.PlusDays(1))
                throw new ArgumentException($"{Weather[i].Date:uuuu-MM-dd} does not follow {Weather[i - 1].Date:uuuu-MM-dd}; fill gaps first.");
        }

        if (Weather.Count < FewestYears * 365)
            throw new ArgumentException(FormattableString.Invariant($"There are {Weather.Count} days of weather; a backtest needs at least {FewestYears} years, {FewestYears * 365} days: one that is forecast and two that tell what is usual."));
    }
}
