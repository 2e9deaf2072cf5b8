using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Verification;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>Which function of the model gives each metric of the check table, and which rows have none, by the start of their id.</summary>
internal static class CheckedMetrics
{
    public static readonly Dictionary<string, Func<CheckJson, double?>> Covered = new()
    {
        ["contingency.PC"] = x => Table(x).ProportionCorrect,
        ["contingency.BIAS"] = x => Table(x).Bias,
        ["contingency.POD"] = x => Table(x).Pod,
        ["contingency.FAR"] = x => Table(x).Far,
        ["contingency.POFD"] = x => Table(x).Pofd,
        ["contingency.CSI"] = x => Table(x).Csi,
        ["contingency.PSS"] = x => Table(x).Pss,
        ["contingency.ETS"] = x => Table(x).Ets,
        ["contingency.HSS"] = x => Table(x).Hss,
        ["contingency.OR"] = x => Table(x).OddsRatio,
        ["contingency.ORSS"] = x => Table(x).Orss,

        ["brierPairs"] = x => Brier.Score(x.List("p"), x.Outcomes("o")),
        ["brierBins.BS"] = x => Brier.Score(Issued(x), Came(x)),
        ["brierBins.BASE"] = x => OfPairs(x).BaseRate,
        ["brierBins.REL"] = x => OfPairs(x).Reliability,
        ["brierBins.RES"] = x => OfPairs(x).Resolution,
        ["brierBins.UNC"] = x => OfPairs(x).Uncertainty,
        ["brierBins.BSS"] = x => OfPairs(x).Skill,
        ["brierFreq.SUMW"] = x => OfShares(x).Weight,
        ["brierFreq.BASE"] = x => OfShares(x).BaseRate,
        ["brierFreq.REL"] = x => OfShares(x).Reliability,
        ["brierFreq.RES"] = x => OfShares(x).Resolution,
        ["brierFreq.UNC"] = x => OfShares(x).Uncertainty,
        ["brierFreq.BS"] = x => OfShares(x).Score,
        ["brierFreq.BSS"] = x => OfShares(x).Skill,

        ["auc"] = x => RocArea.Of(x.List("p"), x.Outcomes("o")),
        ["aucBins"] = x => RocArea.Of(Issued(x), Came(x)),
        ["crpsNormal"] = x => Crps.Normal(x["mu"], x["sd"], x["y"]),
        ["crpsEnsemble"] = x => x.Has("w")
            ? Crps.Ensemble(x.List("x"), x.List("w"), x["y"])
            : Crps.Ensemble(x.List("x"), x["y"]),
        ["crpsFair"] = x => Crps.Fair(x.List("x"), x["y"]),
        ["rps"] = x => Rps.Of(x.List("p"), x.Whole("cat")),
        ["intervalScore"] = x => IntervalScore.Of(x["lo"], x["hi"], x["alpha"], x["y"]),
        ["pinball"] = x => IntervalScore.OfQuantile(x["q"], x["f"], x["y"]),
        ["rank"] = x => new RankHistogram(x.List("x").Length, seed: 1).Add(x.List("x"), x["y"]),

        ["continuous.ME"] = x => Errors(x).MeanError,
        ["continuous.MAE"] = x => Errors(x).MeanAbsoluteError,
        ["continuous.MSE"] = x => Errors(x).MeanSquareError,
        ["continuous.RMSE"] = x => Errors(x).RootMeanSquareError,
        ["continuous.CORR"] = x => Errors(x).Correlation,
        ["msess"] = x => ContinuousScores.Skill(x.List("f"), x.List("ref"), x.List("o")),
        ["sdFromWithin"] = x => ContinuousScores.SdFromWithin(x["p"], x["halfWidth"]),

        ["sun.dr"] = x => Sun.InverseDistance(x.Whole("J")),
        ["sun.dec"] = x => Sun.Declination(x.Whole("J")),
        ["sun.ws"] = x => Sun.SunsetHourAngle(x["lat"], x.Whole("J")),
        ["sun.Ra"] = x => Sun.ExtraterrestrialRadiation(x["lat"], x.Whole("J")),
        ["sun.N"] = x => Sun.DaylightHours(x["lat"], x.Whole("J")),

        ["moisture.wetFromDry"] = x => CheckedBed.WetBasisOf(dryBasis: x["dry"]),
        ["moisture.dryFromWet"] = x => CheckedBed.DryBasisOf(x["wet"]),
        ["moisture.theta"] = x => CheckedBed.ThetaOf(x["wet"], x["rho"]),
        ["moisture.wetFromTheta"] = x => CheckedBed.WetBasisOf(x["theta"], x["rho"]),
        ["moisture.airFilled"] = x => CheckedBed.AirOf(x["theta"], porosity: 1 - x["rho"] / x["rhoSolid"]),
        ["moisture.storageMm"] = x => CheckedBed.StoreOf(x["depth"], x["thetaHi"], x["thetaLo"]),

        ["twoBoxCoeff.a"] = x => CheckedBed.Coefficients(x).A,
        ["twoBoxCoeff.b"] = x => CheckedBed.Coefficients(x).B,
        ["twoBoxCoeff.c"] = x => CheckedBed.Coefficients(x).C,
        ["twoBox.bed"] = x => CheckedBed.After(x).Bed,
        ["twoBox.soil"] = x => CheckedBed.After(x).Soil,
    };

    /// <summary>Start of the id, and why the rows are not compared with anything here.</summary>
    public static readonly Dictionary<string, string> NotCovered = new()
    {
        ["ERRSD-"] = "checked with the forecast error",
        ["PL-"] = "hourly curve of Parton and Logan: the model's step is a day",
        ["HB-"] = "hours below a threshold: the model counts frosty nights, not their hours",
        ["DAMP-"] = "damping depth of a wave in a uniform solid: the model carries bed and soil as two boxes",
        ["KAT-"] = "soil temperature of Kätterer and Andrén: the model carries bed and soil as two boxes",
        ["ZHENG-"] = "soil temperature of Zheng and others: the model carries bed and soil as two boxes",
        ["PARTON-"] = "surface temperature of Parton: the bed's surface exchanges heat with the air by a resistance",
        ["SWAT-"] = "lag of soil temperature by plant residue: already 0.99 at 2 kg/m², where a bed has 28",
    };

    private static ContingencyTable Table(CheckJson x) =>
        new(x.Whole("hits"), x.Whole("falseAlarms"), x.Whole("misses"), x.Whole("correctNegatives"));

    private static ContinuousScores Errors(CheckJson x) => ContinuousScores.Of(x.List("f"), x.List("o"));

    /// <summary>Every forecast of the classes by itself, so that the model makes the classes again.</summary>
    private static MurphyDecomposition OfPairs(CheckJson x) => Brier.Decompose(Issued(x), Came(x));

    private static double[] Issued(CheckJson x) => [.. x.Bins().SelectMany(bin => Enumerable.Repeat(bin.Chance, bin.Cases))];

    private static bool[] Came(CheckJson x) => [.. x.Bins().SelectMany(bin => Enumerable.Range(0, bin.Cases).Select(i => i < bin.Events))];

    private static MurphyDecomposition OfShares(CheckJson x) => MurphyDecomposition.Of(
        [.. x.List("y").Zip(x.List("w"), x.List("obar")).Select(c => new ForecastClass(c.First, c.Second, c.Third))]);
}
