using FruitWatch.Model.Account;

namespace FruitWatch.Model.Season;

/// <summary>
/// Beds inoculated in the same week of several past years, run side by side: a lane a year. One thread keeps one and uses it
/// for week after week and species after species; a bed-day allocates nothing.
/// </summary>
internal sealed class Replay
{
    private const double LightWatering = 2; // mm; common practice, no source
    private const int DailyUntil = 7; // days: week one
    private const int EveryOtherUntil = 14; // days: week two

    private readonly SiteForcing forcing;
    private readonly DayResult result;
    private readonly double[] bedStart;
    private readonly double[] soilStart;
    private readonly double[] given;
    private readonly RunTally[] tallies;
    private readonly int[] pinsByMonth = new int[12];
    private int[] starts = [];
    private PastWeather? past;
    private TrialBed? bed;

    public Replay(int years, double latitude)
    {
        forcing = new SiteForcing(TrialBed.Day0, SeasonPlanner.RunDays, years, latitude);
        State = new BedState(years);
        result = new DayResult(years);
        bedStart = new double[State.Stride];
        soilStart = new double[State.Stride];
        given = new double[State.Stride];
        tallies = new RunTally[State.Stride];
    }

    /// <summary>The beds at the end of the day.</summary>
    public BedState State { get; }

    /// <summary>Water given on the day, by lane. [mm]</summary>
    public ReadOnlySpan<double> Given => given;

    /// <summary>Takes the years of a week.</summary>
    /// <param name="weather">The past.</param>
    /// <param name="days">For each year the day of inoculation, as an index into the past; at least one, at most a lane each.</param>
    public void Load(PastWeather weather, int[] days)
    {
        past = weather;
        starts = days;
        for (var lane = 0; lane < State.Stride; lane++)
        {
            // Lanes to spare repeat the last year and are not looked at.
            var start = days[Math.Min(lane, days.Length - 1)];
            if (lane < State.Futures)
                forcing.Relive(lane, weather.Forcing, start);
            (bedStart[lane], soilStart[lane]) = weather.StartTemperatures(start);
        }
    }

    /// <summary>Runs a bed through all 500 days of the years loaded.</summary>
    public StartWeek Run(TrialBed trial, int week)
    {
        Start(trial);
        for (var day = 0; day < SeasonPlanner.RunDays; day++)
            Advance(day);
        var runs = new PlannedRun[starts.Length];
        for (var lane = 0; lane < runs.Length; lane++)
            runs[lane] = tallies[lane].Finish(past!.First.PlusDays(starts[lane]), State.Flushes[lane]);
        return new StartWeek(week, runs, [.. pinsByMonth]);
    }

    /// <summary>Puts a bed at the evening before its first day.</summary>
    public void Start(TrialBed trial)
    {
        bed = trial;
        trial.Step.Start(State, bedStart, soilStart);
        Array.Fill(tallies, RunTally.Begun);
        Array.Clear(pinsByMonth);
    }

    /// <summary>Waters and goes on by one day.</summary>
    public void Advance(int day)
    {
        Water(day);
        bed!.Step.Advance(State, forcing, day, result, given);
        for (var lane = 0; lane < starts.Length; lane++)
        {
            tallies[lane].Note(day, lane, bed.Species, State, result);
            if (result.Events[lane] == AccountEvent.Pins)
                pinsByMonth[past!.Months[starts[lane] + day] - 1]++;
        }
    }

    private void Water(int day)
    {
        var light = day < DailyUntil || (day < EveryOtherUntil && (day - DailyUntil) % 2 == 0) ? LightWatering : 0;
        var full = bed!.CapacityOn(day);
        for (var lane = 0; lane < starts.Length; lane++)
        {
            var spent = State.Phases[lane] == Phase.Spent;
            var dry = day > 0 && result.Moisture[lane] < bed.WaterMark;
            given[lane] = spent ? 0 : dry ? full - State.Water[lane] : light;
            tallies[lane].Water(day, given[lane]);
        }
    }
}
