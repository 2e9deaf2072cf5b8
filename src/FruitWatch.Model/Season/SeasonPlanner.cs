using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Season;

/// <summary>
/// Plans a season from a site's own past: for every week of the year, every past year and every species a bed is inoculated,
/// watered as a careful grower would, and run for 500 days.
/// </summary>
/// <remarks>
/// The bed starts at container capacity. On a morning after its moisture fell below the material's mark it is watered to
/// container capacity; in week one it gets 2 mm a day and in week two 2 mm every other day (common practice, no source). A
/// spent bed is watered no more. No other care is taken: no cover is put on or off, and nobody soaks a bed to make it pin.
/// </remarks>
public static class SeasonPlanner
{
    /// <summary>Length of a run. [d]</summary>
    public const int RunDays = 500;

    /// <summary>The 12 months within which a pick counts: up to this day after inoculation. [d]</summary>
    public const int YearDays = 365;

    /// <summary>Plans a season.</summary>
    /// <param name="history">The site's past days, in any order, with or without holes; forecasts do not belong here.</param>
    /// <param name="ladder">Rule for the reference evapotranspiration; brings the site's latitude.</param>
    /// <param name="species">At least one, none twice.</param>
    /// <param name="pattern">The bed to plan for.</param>
    /// <param name="catalogue">Materials by key, and the effects of covers.</param>
    /// <param name="threads">Most threads to use; 0 for one a processor. The plan does not depend on it.</param>
    /// <param name="cancellation">Stops between two weeks.</param>
    /// <exception cref="ArgumentException">The weather, the species or the pattern cannot be; says what, where, and what would do.</exception>
    public static SeasonPlan Plan(
        IReadOnlyList<WeatherDay> history,
        EvaporationLadder ladder,
        IReadOnlyList<Species> species,
        BedPattern pattern,
        BedCatalogue catalogue,
        int threads = 0,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(ladder);
        ArgumentNullException.ThrowIfNull(species);
        ArgumentNullException.ThrowIfNull(pattern);
        ArgumentNullException.ThrowIfNull(catalogue);
        ArgumentOutOfRangeException.ThrowIfNegative(threads);
        CheckLatitude(ladder);
        CheckSpecies(species);
        pattern.Check(catalogue);

        TrialBed[] beds = [.. species.Select(kind => new TrialBed(pattern.For(kind, catalogue, TrialBed.Day0), catalogue, ladder.Latitude))];
        var past = PastWeather.Of(history, ladder);
        List<LeftOutRun> leftOut = [];
        int[][] starts = [.. Enumerable.Range(1, StartWeek.Count).Select(week => StartsOf(week, past, leftOut))];
        var weeks = RunAll(beds, past, starts, threads, cancellation);
        return new SeasonPlan(
            past.Days == 0 ? null : past.First,
            past.Days == 0 ? null : past.First.PlusDays(past.Days - 1),
            pattern,
            [.. beds.Select((bed, i) => new SpeciesSeason(bed.Species, bed.Bed.Layers[0].Material, weeks[i]))],
            NotesOn(past, starts, leftOut.Count),
            [.. leftOut.OrderBy(run => run.Start)]);
    }

    /// <summary>Every thread takes whole weeks and writes to places of its own: their number and order leave no trace.</summary>
    private static StartWeek[][] RunAll(TrialBed[] beds, PastWeather past, int[][] starts, int threads, CancellationToken cancellation)
    {
        var weeks = new StartWeek[beds.Length][];
        for (var i = 0; i < beds.Length; i++)
            weeks[i] = new StartWeek[StartWeek.Count];

        var lanes = Math.Max(1, starts.Max(years => years.Length));
        var options = new ParallelOptions
        {
            MaxDegreeOfParallelism = threads == 0 ? Environment.ProcessorCount : threads,
            CancellationToken = cancellation,
        };
        Parallel.For(0, StartWeek.Count, options, () => new Replay(lanes, past.Forcing.Latitude), (week, _, replay) =>
        {
            var any = starts[week].Length > 0;
            if (any)
                replay.Load(past, starts[week]);
            for (var i = 0; i < beds.Length; i++)
                weeks[i][week] = any ? replay.Run(beds[i], week + 1) : new StartWeek(week + 1, [], new int[12]);
            return replay;
        }, _ => { });
        return weeks;
    }

    private static int[] StartsOf(int week, PastWeather past, List<LeftOutRun> leftOut)
    {
        List<int> starts = [];
        if (past.Days < RunDays)
            return [];
        for (var year = past.First.Year; year <= past.Forcing.End.Year; year++)
        {
            if (past.IndexOf(StartWeek.StartOf(week, year), RunDays) is not { } start)
                continue;
            if (past.Hole(start, RunDays) is { } hole)
                leftOut.Add(hole);
            else
                starts.Add(start);
        }

        return [.. starts];
    }

    private static List<PlannerNote> NotesOn(PastWeather past, int[][] starts, int leftOut)
    {
        List<PlannerNote> notes = [];
        var most = starts.Max(years => years.Length);
        var without = starts.Count(years => years.Length == 0);
        if (most == 0 && leftOut == 0)
            notes.Add(PlannerNote.Of(PlannerNoteCode.NoWholeRun, past.Days, RunDays));
        if (past.StoppedAt is { } stop)
            notes.Add(PlannerNote.Of(PlannerNoteCode.WeatherStops, past.Days) with { Day = stop });
        if (most == 1)
            notes.Add(PlannerNote.Of(PlannerNoteCode.OneYearOnly, StartWeek.Count - without));
        if (without > 0)
            notes.Add(PlannerNote.Of(PlannerNoteCode.WeeksWithoutYears, without, StartWeek.Count));
        if (leftOut > 0)
            notes.Add(PlannerNote.Of(PlannerNoteCode.RunsLeftOut, leftOut, starts.Sum(years => years.Length)));
        if (past.FilledDays > 0)
            notes.Add(PlannerNote.Of(PlannerNoteCode.DaysFilled, past.FilledDays, past.Days));
        return notes;
    }

    private static void CheckLatitude(EvaporationLadder ladder)
    {
        if (!(ladder.Latitude >= -90 && ladder.Latitude <= 90))
            throw new ArgumentException(FormattableString.Invariant($"The site's latitude is {ladder.Latitude}; give -90 to 90 degrees, south negative."), nameof(ladder));
    }

    private static void CheckSpecies(IReadOnlyList<Species> species)
    {
        if (species.Count == 0)
            throw new ArgumentException("No species was asked for; name at least one.", nameof(species));
        var twice = species.GroupBy(kind => kind.Key).FirstOrDefault(group => group.Count() > 1);
        if (twice is not null)
            throw new ArgumentException($"{twice.Key} was asked for twice; name each species once.", nameof(species));
    }
}
