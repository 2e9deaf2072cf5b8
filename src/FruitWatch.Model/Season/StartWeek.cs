using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>What became of the beds of one species inoculated in one week of the year, over all past years.</summary>
public sealed record StartWeek
{
    /// <summary>Weeks of a plan. The last day or two of a year belong to none.</summary>
    public const int Count = 52;

    private const int DaysOfWeek = 7;

    internal StartWeek(int number, PlannedRun[] runs, int[] pinsByMonth)
    {
        Number = number;
        Runs = runs;
        PinsByMonth = pinsByMonth;
        Picked = runs.Count(run => run.Picked);
        SpawnRunDays = Of(run => run.SpawnRunDays);
        FirstPinsDays = Of(run => run.FirstPinsDays);
        FirstPickDays = Of(run => run.FirstPickDays);
        Flushes = Of(run => run.Flushes);
        Waterings = Of(run => run.WateringsOfYear);
        Litres = Of(run => run.LitresOfYear);
        var failures = new SortedDictionary<NoPickReason, int>();
        foreach (var run in runs)
        {
            if (run.Failure is { } reason)
                failures[reason] = failures.GetValueOrDefault(reason) + 1;
        }

        Failures = failures;
    }

    /// <summary>Number of the week; week 1 starts on 1 January. 1…52</summary>
    public int Number { get; }

    /// <summary>One run for every past year whose weather reaches 500 days on from the week's first day.</summary>
    public IReadOnlyList<PlannedRun> Runs { get; }

    /// <summary>Years that count: n. With 0 nothing is known of this week; 1 is one year only.</summary>
    public int Years => Runs.Count;

    /// <summary>Years with a pick within 12 months: k of n.</summary>
    public int Picked { get; }

    /// <summary>Chance of a pick within 12 months, never 0 or 1; null where no year counts.</summary>
    public double? Chance => Years == 0 ? null : Futures.Chance.Of(Picked, Years);

    /// <summary>Days to the end of the spawn run.</summary>
    public Spread SpawnRunDays { get; }

    /// <summary>Days to the first pins.</summary>
    public Spread FirstPinsDays { get; }

    /// <summary>Days to the first pick.</summary>
    public Spread FirstPickDays { get; }

    /// <summary>Flushes within 500 days.</summary>
    public Spread Flushes { get; }

    /// <summary>Waterings within 12 months.</summary>
    public Spread Waterings { get; }

    /// <summary>Water to give within 12 months. [L/m²]</summary>
    public Spread Litres { get; }

    /// <summary>Years without a pick within 12 months, by what stopped it.</summary>
    public IReadOnlyDictionary<NoPickReason, int> Failures { get; }

    /// <summary>How often pins formed in each month, January first, over all years and all 500 days.</summary>
    public IReadOnlyList<int> PinsByMonth { get; }

    /// <summary>First day of this week in a year, the day of inoculation.</summary>
    public LocalDate StartIn(int year) => StartOf(Number, year);

    /// <summary>Dates of the first pick for a bed inoculated in a year.</summary>
    public DateSpread FirstPickFrom(int year) => From(year, FirstPickDays);

    /// <summary>Dates of the spawn run's end for a bed inoculated in a year.</summary>
    public DateSpread SpawnRunFrom(int year) => From(year, SpawnRunDays);

    internal static LocalDate StartOf(int number, int year) => new LocalDate(year, 1, 1).PlusDays((number - 1) * DaysOfWeek);

    private DateSpread From(int year, Spread days)
    {
        return new DateSpread(After(days.P10), After(days.P50), After(days.P90));

        LocalDate? After(double? count) => count is { } known ? StartIn(year).PlusDays((int)known) : null;
    }

    private Spread Of(Func<PlannedRun, double?> value) => Spread.Of([.. Runs.Select(value)]);
}
