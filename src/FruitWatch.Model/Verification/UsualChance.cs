using NodaTime;

namespace FruitWatch.Model.Verification;

/// <summary>Whether pins followed a forecast, and when that was.</summary>
/// <param name="Issued">Day of issue.</param>
/// <param name="Season">Season that it belongs to, as its year.</param>
/// <param name="PinsCame">Whether pins came within the lead.</param>
public readonly record struct SeasonOutcome(LocalDate Issued, int Season, bool PinsCame);

/// <summary>How often pins come at a time of the year, by what came in the other seasons: what a grower knows who keeps a calendar.</summary>
public static class UsualChance
{
    /// <summary>Outcomes of other seasons below which nothing is usual.</summary>
    public const int FewestOutcomes = 20;

    /// <summary>How far apart in the year outcomes may be. [d]</summary>
    public const int WindowDays = 30;

    private const int YearDays = 365;

    /// <summary>For each outcome the share of pins among those of other seasons at that time of the year; null with fewer than <see cref="FewestOutcomes"/>. 0…1</summary>
    /// <param name="outcomes">Of one species and one lead, in any order.</param>
    public static IReadOnlyList<double?> LeaveOneSeasonOut(IReadOnlyList<SeasonOutcome> outcomes)
    {
        ArgumentNullException.ThrowIfNull(outcomes);
        // Counted once by season and day of the year: asking is then a sum over days, however many outcomes there are.
        var bySeason = outcomes.GroupBy(o => o.Season).ToDictionary(season => season.Key, Windows);
        return
        [
            .. outcomes.Select(outcome =>
            {
                int cases = 0, pins = 0;
                foreach (var (season, windows) in bySeason)
                {
                    if (season == outcome.Season)
                        continue;
                    cases += windows[DayOf(outcome.Issued)].Cases;
                    pins += windows[DayOf(outcome.Issued)].Pins;
                }

                return cases < FewestOutcomes ? null : (double?)pins / cases;
            }),
        ];
    }

    private static (int Cases, int Pins)[] Windows(IEnumerable<SeasonOutcome> season)
    {
        var windows = new (int Cases, int Pins)[YearDays];
        foreach (var outcome in season)
        {
            for (var apart = -WindowDays; apart <= WindowDays; apart++)
            {
                ref var day = ref windows[(DayOf(outcome.Issued) + apart + YearDays) % YearDays];
                day.Cases++;
                day.Pins += outcome.PinsCame ? 1 : 0;
            }
        }

        return windows;
    }

    /// <summary>Day of a year without a 29 February, from 0: the 29th counts as the 28th.</summary>
    private static int DayOf(LocalDate date) => new LocalDate(2001, date.Month, date is { Month: 2, Day: 29 } ? 28 : date.Day).DayOfYear - 1;
}
