using FruitWatch.Model.Account;
using FruitWatch.Model.Learning;
using FruitWatch.Model.Tests.Account;
using NodaTime;

namespace FruitWatch.Model.Tests.Learning;

/// <summary>Learning run on 500 beds whose multipliers are known.</summary>
public sealed class FiveHundredBeds
{
    private const int Members = 64;

    public FiveHundredBeds()
    {
        var outcomes = new Outcome[500];
        Parallel.For(0, outcomes.Length, () => new BedLearning(Made.Catalogue), (number, _, learning) =>
        {
            outcomes[number] = Outcome.Of(new SyntheticBed(number), number, learning);
            return learning;
        }, _ => { });
        Outcomes = outcomes;
    }

    internal IReadOnlyList<Outcome> Outcomes { get; }

    /// <summary>What came out for one bed.</summary>
    /// <param name="Bed">The bed.</param>
    /// <param name="Learned">What was learned; its end is gone.</param>
    /// <param name="Prior">CRPS of the next date by the pairs as drawn; null where no date comes. [d]</param>
    /// <param name="Posterior">The same by the pairs as learned.</param>
    internal sealed record Outcome(SyntheticBed Bed, BedLearned Learned, double? Prior, double? Posterior)
    {
        public static Outcome Of(SyntheticBed bed, int number, BedLearning learning)
        {
            var learned = learning.Run(bed.Bed, bed.Log, SyntheticBed.Weather.Until(bed.City, bed.Until), bed.Until, (ulong)number, Members);
            var what = bed.Next(AccountEvent.Pins) is null ? AccountEvent.Colonised : AccountEvent.Pins;
            if (bed.Next(what) is not { } came)
                return new Outcome(bed, learned, null, null);

            var observed = Period.DaysBetween(bed.Until, came);
            int[] evenly = [.. Enumerable.Range(0, Members).Select(member => member * learned.Weights.Length / Members)];
            return new Outcome(bed, learned, Score(evenly), Score(learned.Lanes.AsSpan()));

            double Score(ReadOnlySpan<int> lanes) => Crps(Dates(bed, learned.End, lanes, what), observed);
        }

        /// <summary>Days from the last one known to the next event, by the weather that came; the horizon's end where there is none.</summary>
        private static int[] Dates(SyntheticBed bed, BedState end, ReadOnlySpan<int> lanes, AccountEvent what)
        {
            var weather = SyntheticBed.Weather.Of(bed.City);
            var age = Period.DaysBetween(bed.Bed.Inoculated, bed.Until);
            var step = new BedStep(new BedPlan(bed.Bed, bed.Log, Made.Catalogue, age + SyntheticBed.Horizon + 1), weather.Latitude);
            var (state, result) = (new BedState(Members), new DayResult(Members));
            var dates = new int[Members];
            Array.Fill(dates, SyntheticBed.Horizon + 1);
            state.StartFrom(end, lanes);
            for (var day = 1; day <= SyntheticBed.Horizon; day++)
            {
                step.Advance(state, weather, age + day, result);
                for (var member = 0; member < Members; member++)
                {
                    if (result.EventOf(member) == what)
                        dates[member] = Math.Min(dates[member], day);
                }
            }

            return dates;
        }

        /// <summary>Mean |x − y| less half the mean |x − x′| (Gneiting and Raftery 2007, eq. 21).</summary>
        private static double Crps(int[] dates, int observed) =>
            dates.Average(date => Math.Abs(date - observed)) - dates.Average(date => dates.Average(other => Math.Abs(date - other))) / 2;
    }
}
