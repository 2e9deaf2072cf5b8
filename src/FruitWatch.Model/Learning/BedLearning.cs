using System.Runtime.InteropServices;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Learning;

/// <summary>
/// Learns how a bed differs from the catalogue: its account is run with many pairs of multipliers at once, and each pair is
/// weighed by how well it agrees with what the grower saw. A pure function of bed, log, weather and seed: recomputed from the log
/// each time, so there is no state to keep or to lose.
/// </summary>
/// <remarks>
/// <para>
/// What is weighed is an account that nobody corrected. A squeeze test and a look at the mycelium are evidence of where the bed
/// stood; an account that took them over would start all pairs from the same, erroneous place, and the next test would be held
/// against the error of the last. The account that outlooks go on from, <see cref="BedLearned.End"/>, has all corrections.
/// Entries that say which phase the bed is in correct both: pins count from the last of them.
/// </para>
/// <para>A check that found no pins is not learned from: the three observations are moisture, mycelium and dates of pins.</para>
/// <para>Not safe for use by several threads at once; a thread keeps one and uses it for bed after bed.</para>
/// </remarks>
public sealed class BedLearning
{
    private readonly BedCatalogue catalogue;
    private readonly Likelihood likelihood;
    private readonly MultiplierPairs pairs;
    private readonly PairWeights weights;
    private readonly PinsDates pins;
    private readonly BedState corrected;
    private readonly BedState uncorrected;
    private readonly DayResult result;

    /// <summary>Makes room for the catalogue's number of pairs.</summary>
    /// <param name="catalogue">Spreads of the multipliers, errors of what is seen, effects of covers.</param>
    public BedLearning(BedCatalogue catalogue)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        this.catalogue = catalogue;
        var count = catalogue.Learning.Pairs;
        likelihood = new Likelihood(catalogue.Learning);
        pairs = new MultiplierPairs(count);
        weights = new PairWeights(count);
        pins = new PinsDates(count);
        corrected = new BedState(count);
        uncorrected = new BedState(count);
        result = new DayResult(count);
    }

    /// <summary>Learns from a bed's log.</summary>
    /// <param name="bed">The bed; its own multipliers are the medians that the pairs are drawn about.</param>
    /// <param name="log">Its log, in any order; entries after <paramref name="until"/> are left out.</param>
    /// <param name="past">The site's weather, one series, from inoculation at the latest.</param>
    /// <param name="until">
    /// Last day, included, such as yesterday. Before the inoculation nothing has happened yet: the state is that of the evening
    /// before the first day.
    /// </param>
    /// <param name="seed">The bed's own, the same every day: then only what is new in log and weather changes what was learned.</param>
    /// <param name="members">Futures of the outlook that goes on from here, at least 1.</param>
    /// <exception cref="ArgumentException">The weather does not reach, or the log has an entry from before the inoculation.</exception>
    public BedLearned Run(Bed bed, IReadOnlyList<LogEntry> log, SiteForcing past, LocalDate until, ulong seed, int members)
    {
        ArgumentNullException.ThrowIfNull(bed);
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(past);
        ArgumentOutOfRangeException.ThrowIfLessThan(members, 1);
        if (past.Futures != 1)
            throw new ArgumentException("A bed's past has one series of weather.", nameof(past));
        if (until >= bed.Inoculated && (past.First > bed.Inoculated || past.End <= until))
            throw new ArgumentException(
                $"The weather runs from {past.First:uuuu-MM-dd} to {past.End.PlusDays(-1):uuuu-MM-dd}; learning needs {bed.Inoculated:uuuu-MM-dd} to {until:uuuu-MM-dd}.", nameof(past));

        var draws = new SeededDraws(seed);
        pairs.Draw(bed, catalogue.Learning, ref draws);
        weights.Clear();
        var (from, end) = until < bed.Inoculated ? (default, EveningBefore(bed, log, past)) : Weigh(bed, log, past, until);
        var normalised = weights.Normalised(from.Count, out var disagrees);
        return new BedLearned(
            weights.Summary(pairs.Evaporation, normalised),
            weights.Summary(pairs.Growth, normalised),
            ImmutableCollectionsMarshal.AsImmutableArray(normalised),
            ImmutableCollectionsMarshal.AsImmutableArray(PairWeights.Resampled(normalised, pairs.Walk, members, draws.Uniform())),
            from,
            disagrees,
            end);
    }

    private BedState EveningBefore(Bed bed, IReadOnlyList<LogEntry> log, SiteForcing past)
    {
        // The weather may end the day before, so the first day's own is not asked for where there is any other.
        var plan = new BedPlan(bed, log, catalogue, 1);
        var first = Math.Clamp(Period.DaysBetween(past.First, bed.Inoculated), 0, past.Days);
        var firstMean = past.Tmean[Math.Min(first, past.Days - 1) * past.Stride];
        corrected.Start(plan, plan.On(0), bed: past.MeanBefore(first, 10) ?? firstMean, soil: past.MeanBefore(first, 60) ?? firstMean);
        TakePairs(corrected);
        return corrected;
    }

    private (LearnedFrom From, BedState End) Weigh(Bed bed, IReadOnlyList<LogEntry> log, SiteForcing past, LocalDate until)
    {
        var days = Period.DaysBetween(bed.Inoculated, until) + 1;
        var plan = new BedPlan(bed, log, catalogue, days);
        var step = new BedStep(plan, past.Latitude);
        var evidence = log.Any(IsEvidence);
        var free = evidence ? new BedStep(new BedPlan(bed, log.Where(entry => !IsEvidence(entry)), catalogue, days), past.Latitude) : step;
        var reach = Math.Min(days + Likelihood.LookAheadDays, Period.DaysBetween(bed.Inoculated, past.End)) - 1;
        var unseen = log.OfType<PinsSeen>().Any()
            ? new BedStep(new BedPlan(bed, log.Where(entry => !IsEvidence(entry) && !SaysPhase(entry)), catalogue, reach + 1), past.Latitude)
            : free;

        free.Start(uncorrected, past);
        TakePairs(uncorrected);
        if (evidence)
        {
            step.Start(corrected, past);
            TakePairs(corrected);
        }

        pins.Clear();
        int squeezes = 0, moistures = 0, looks = 0, dates = 0;
        var (firstRun, flushSeen) = (true, false);
        for (var day = 0; day < days; day++)
        {
            free.AdvanceUncorrected(uncorrected, past, day, result, []);
            pins.Note(day, result);
            var entries = plan.CorrectionsOn(day);
            if (!entries.IsEmpty)
            {
                var today = plan.On(day);
                var pinsWeighed = false;
                foreach (var entry in entries)
                {
                    switch (entry)
                    {
                        case SqueezeTest squeeze:
                            squeezes++;
                            for (var pair = 0; pair < uncorrected.Futures; pair++)
                                weights.Logs[pair] += likelihood.OfSqueeze(squeeze.Result, today, uncorrected.Water[pair]);
                            break;
                        case MoistureMeasured measured:
                            moistures++;
                            for (var pair = 0; pair < uncorrected.Futures; pair++)
                                weights.Logs[pair] += likelihood.OfMoisture(measured.WetBasis, today, uncorrected.Water[pair]);
                            break;
                        case MyceliumSeen seen when firstRun:
                            looks++;
                            for (var pair = 0; pair < uncorrected.Futures; pair++)
                                weights.Logs[pair] += likelihood.OfMycelium(seen.Share, uncorrected.SpawnRun[pair]);
                            break;
                        case PinsSeen when !pinsWeighed && !(flushSeen && FlushStillOn()):
                            dates++;
                            pinsWeighed = true;
                            pins.Weigh(day, uncorrected, unseen, past, reach, likelihood, weights.Logs);
                            break;
                    }
                }

                foreach (var entry in entries)
                {
                    if (SaysPhase(entry))
                    {
                        pins.Clear();
                        flushSeen = entry is PinsSeen or Picked;
                    }

                    // A bed that fruits has been run through, and of fresh material on top the account does not know the run.
                    firstRun &= !SaysPhase(entry) && entry is not ToppedUp;
                }

                free.Correct(uncorrected, day, result);
            }

            if (evidence)
                step.Advance(corrected, past, day, result);
        }

        return (new LearnedFrom(squeezes, moistures, looks, dates), evidence ? corrected : uncorrected);
    }

    private void TakePairs(BedState state)
    {
        pairs.Evaporation.CopyTo(state.EvaporationMultiplier, 0);
        pairs.Growth.CopyTo(state.GrowthMultiplier, 0);
    }

    /// <summary>Whether the flush that was seen last still grows or is picked in most pairs: then pins seen are pins of that flush.</summary>
    private bool FlushStillOn()
    {
        var on = 0;
        for (var pair = 0; pair < uncorrected.Futures; pair++)
            on += uncorrected.Phases[pair] is Phase.Growing or Phase.Picking ? 1 : 0;
        return 2 * on > uncorrected.Futures;
    }

    /// <summary>Says where the bed stands, with an error.</summary>
    private static bool IsEvidence(LogEntry entry) => entry is SqueezeTest or MoistureMeasured or MyceliumSeen;

    /// <summary>Says which phase the bed is in.</summary>
    private static bool SaysPhase(LogEntry entry) => entry is PinsSeen or Picked or FlushOver or BedSpent;
}
