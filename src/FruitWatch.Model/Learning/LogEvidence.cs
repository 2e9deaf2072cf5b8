using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Learning;

/// <summary>Holds what the log says day by day against an account that runs in all pairs and that nobody corrected.</summary>
internal sealed class LogEvidence
{
    /// <summary>So long a look holds: beds are looked at weekly. Common practice, no source. [d]</summary>
    private const int LookHolds = 7;

    /// <summary>Share of the weight that has to agree with a look for it to be followed. Chosen.</summary>
    private const double HardlyAny = 0.05;

    private readonly Likelihood likelihood;
    private readonly PinsDates pins;
    private readonly PairWeights weights;
    private int? lastLook; // day of the last look that found no pins, since the grower last said which phase the bed is in
    private bool firstRun;
    private bool flushSeen;

    public LogEvidence(LearningDefaults errors, PairWeights weights)
    {
        likelihood = new Likelihood(errors);
        pins = new PinsDates(errors.Pairs, likelihood);
        this.weights = weights;
    }

    /// <summary>What was held against the account.</summary>
    public LearnedFrom From { get; private set; }

    /// <summary>Says where the bed stands, with an error that is known.</summary>
    public static bool IsReading(LogEntry entry) => entry is SqueezeTest or MoistureMeasured or MyceliumSeen;

    /// <summary>Says which phase the bed is in.</summary>
    public static bool SaysPhase(LogEntry entry) => entry is PinsSeen or Picked or FlushOver or BedSpent;

    /// <summary>Begins a bed.</summary>
    public void Begin()
    {
        weights.Clear();
        pins.Begin(pinsSeen: false);
        From = default;
        lastLook = null;
        firstRun = true;
        flushSeen = false;
    }

    /// <summary>Notes what the account did by itself on a day.</summary>
    public void Note(int day, DayResult result) => pins.Note(day, result);

    /// <summary>Weighs the pairs by the entries of a day.</summary>
    /// <param name="entries">In order of time.</param>
    /// <param name="today">The layer.</param>
    /// <param name="day">Days since inoculation.</param>
    /// <param name="account">At the day's end, before the entries correct it.</param>
    /// <param name="unseen">Goes on as if the grower had seen nothing.</param>
    public void Weigh(ReadOnlySpan<LogEntry> entries, in BedDay today, int day, BedState account, UnseenAccount unseen)
    {
        var pinsWeighed = false;
        foreach (var entry in entries)
        {
            switch (entry)
            {
                case SqueezeTest squeeze:
                    From = From with { SqueezeTests = From.SqueezeTests + 1 };
                    for (var pair = 0; pair < account.Futures; pair++)
                        weights.Logs[pair] += likelihood.OfSqueeze(squeeze.Result, today, account.Water[pair]);
                    break;
                case MoistureMeasured measured:
                    From = From with { Moistures = From.Moistures + 1 };
                    for (var pair = 0; pair < account.Futures; pair++)
                        weights.Logs[pair] += likelihood.OfMoisture(measured.WetBasis, today, account.Water[pair]);
                    break;
                case MyceliumSeen seen when firstRun:
                    From = From with { MyceliumLooks = From.MyceliumLooks + 1 };
                    for (var pair = 0; pair < account.Futures; pair++)
                        weights.Logs[pair] += likelihood.OfMycelium(seen.Share, account.SpawnRun[pair]);
                    break;
                case PinsSeen when !pinsWeighed && !(flushSeen && FlushStillOn(account)):
                    From = From with { PinsDates = From.PinsDates + 1 };
                    pinsWeighed = true;
                    pins.Weigh(day, account, unseen, weights.Logs);
                    break;
                case NoPinsFound when !(flushSeen && FlushStillOn(account)):
                    From = From with { LooksWithoutPins = From.LooksWithoutPins + 1 };
                    lastLook = day;
                    pins.WeighNone(day, account, weights.Logs);
                    break;
            }
        }

        foreach (var entry in entries)
            Follow(entry);
    }

    private void Follow(LogEntry entry)
    {
        if (SaysPhase(entry))
        {
            pins.Begin(pinsSeen: entry is PinsSeen);
            lastLook = null;
            flushSeen = entry is PinsSeen or Picked;
        }

        // A bed that fruits has been run through, and of fresh material on top the account does not know the run.
        firstRun &= !SaysPhase(entry) && entry is not ToppedUp;
    }

    /// <summary>
    /// The weights with which futures go on: those of the pairs, but none for a pair in which pins stand that a look in the last
    /// days would have found. Its multipliers may be right, and its date a little off; what it says of this week is known to be wrong.
    /// </summary>
    /// <param name="posterior">Weights of the pairs.</param>
    /// <param name="end">Where each pair stands.</param>
    /// <param name="today">Days since inoculation, the day after the last.</param>
    /// <returns>The same array where no look says anything, or where hardly a pair agrees with it.</returns>
    public double[] OfFutures(double[] posterior, BedState end, int today)
    {
        if (lastLook is not { } look || today - look > LookHolds)
            return posterior;
        var weights = new double[posterior.Length];
        var sum = 0.0;
        for (var pair = 0; pair < weights.Length; pair++)
        {
            weights[pair] = end.Phases[pair] is Phase.Growing or Phase.Picking && !pins.CameAfter(look, pair) ? 0 : posterior[pair];
            sum += weights[pair];
        }

        if (sum < HardlyAny)
            return posterior;
        for (var pair = 0; pair < weights.Length; pair++)
            weights[pair] /= sum;
        return weights;
    }

    /// <summary>Whether the flush that was seen last still grows or is picked in most pairs: then pins seen are pins of that flush.</summary>
    private static bool FlushStillOn(BedState account)
    {
        var on = 0;
        for (var pair = 0; pair < account.Futures; pair++)
            on += account.Phases[pair] is Phase.Growing or Phase.Picking ? 1 : 0;
        return 2 * on > account.Futures;
    }
}
