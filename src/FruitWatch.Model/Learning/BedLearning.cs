using System.Runtime.InteropServices;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;
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
/// against the error of the last. Entries that say which phase the bed is in do correct it: pins count from the last of them.
/// </para>
/// <para>
/// The account that outlooks go on from, <see cref="BedLearned.End"/>, takes over the moisture, which the weather soon outlives,
/// as any account does. A look at the mycelium it takes over only as far as its error leaves no doubt. The run only ever
/// grows, so that the look that erred highest would stay in it for good, in all pairs, and undo what was learned from the others.
/// </para>
/// <para>
/// A look that found no pins weighs the pairs in which they stand. Without it, what stands in a pair unseen would be told as there to
/// be found, week after week, in a bed that was looked at and had none.
/// </para>
/// <para>Not safe for use by several threads at once; a thread keeps one and uses it for bed after bed.</para>
/// </remarks>
public sealed class BedLearning
{
    /// <summary>Standard deviations below what was seen that the mycelium has reached beyond doubt.</summary>
    private const double Doubt = 2;

    private readonly BedCatalogue catalogue;
    private readonly MultiplierPairs pairs;
    private readonly PairWeights weights;
    private readonly LogEvidence evidence;
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
        pairs = new MultiplierPairs(count);
        weights = new PairWeights(count);
        evidence = new LogEvidence(catalogue.Learning, weights);
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

        var draws = new Draws(seed);
        pairs.Draw(bed, catalogue.Learning, draws);
        evidence.Begin();
        var end = until < bed.Inoculated ? EveningBefore(bed, log, past) : Weigh(bed, [.. log.Where(entry => entry.Date <= until)], past, until);
        var normalised = weights.Normalised(evidence.From.Count, out var disagrees);
        return new BedLearned(
            weights.Summary(pairs.Evaporation, normalised),
            weights.Summary(pairs.Growth, normalised),
            ImmutableCollectionsMarshal.AsImmutableArray(normalised),
            ImmutableCollectionsMarshal.AsImmutableArray(PairWeights.Resampled(
                evidence.OfFutures(normalised, end, Period.DaysBetween(bed.Inoculated, until) + 1), pairs.Walk, members, draws.Uniform())),
            evidence.From,
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

    private BedState Weigh(Bed bed, List<LogEntry> log, SiteForcing past, LocalDate until)
    {
        var days = Period.DaysBetween(bed.Inoculated, until) + 1;
        var known = Math.Min(days + UnseenAccount.MostDays, Period.DaysBetween(bed.Inoculated, past.End));
        var plan = new BedPlan(bed, log, catalogue, days);
        var readings = log.Any(LogEvidence.IsReading);
        var free = readings ? Steps(log.Where(entry => !LogEvidence.IsReading(entry)), days) : new BedStep(plan, past.Latitude);
        var unseen = new UnseenAccount(
            log.OfType<PinsSeen>().Any() ? Steps(log.Where(entry => !LogEvidence.IsReading(entry) && !LogEvidence.SaysPhase(entry)), known) : free,
            past,
            known - 1);

        Start(free, uncorrected);
        for (var day = 0; day < days; day++)
        {
            free.AdvanceUncorrected(uncorrected, past, day, result, []);
            evidence.Note(day, result);
            if (plan.CorrectionsOn(day) is { IsEmpty: false } entries)
                evidence.Weigh(entries, plan.On(day), day, uncorrected, unseen);
            free.Correct(uncorrected, day, result);
        }

        if (!readings)
            return uncorrected;

        var step = Steps(log.Select(BeyondDoubt), days);
        Start(step, corrected);
        for (var day = 0; day < days; day++)
            step.Advance(corrected, past, day, result);
        return corrected;

        BedStep Steps(IEnumerable<LogEntry> entries, int count) => new(new BedPlan(bed, entries, catalogue, count), past.Latitude);

        void Start(BedStep first, BedState state)
        {
            first.Start(state, past);
            TakePairs(state);
        }
    }

    private void TakePairs(BedState state)
    {
        pairs.Evaporation.CopyTo(state.EvaporationMultiplier, 0);
        pairs.Growth.CopyTo(state.GrowthMultiplier, 0);
    }

    /// <summary>A look at the mycelium, as far as its error leaves no doubt.</summary>
    private LogEntry BeyondDoubt(LogEntry entry) => entry is MyceliumSeen seen
        ? seen with { Share = Math.Max(0, seen.Share - Doubt * catalogue.Learning.SdMycelium) }
        : entry;
}
