using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>When to start beds of some species at a site, from its own past weather.</summary>
/// <param name="First">First day of the weather used; null where there was none.</param>
/// <param name="Last">Last day of the weather used.</param>
/// <param name="Pattern">The bed planned for.</param>
/// <param name="Species">In the order asked for.</param>
/// <param name="Notes">What a reader should know about it.</param>
/// <param name="LeftOut">Runs that the weather's holes forbid, by day of inoculation.</param>
public sealed record SeasonPlan(
    LocalDate? First,
    LocalDate? Last,
    BedPattern Pattern,
    IReadOnlyList<SpeciesSeason> Species,
    IReadOnlyList<PlannerNote> Notes,
    IReadOnlyList<LeftOutRun> LeftOut);

/// <summary>What a reader of a plan should know about it.</summary>
public enum PlannerNoteCode : byte
{
    /// <summary>No week's first day has weather enough after it for a run. Numbers: days of weather, days that a run takes.</summary>
    NoWholeRun,

    /// <summary>The weather was used only up to a day that nothing could fill. Numbers: days before it. Day: that day.</summary>
    WeatherStops,

    /// <summary>Every week that has a run at all has one year only. Numbers: weeks with one year.</summary>
    OneYearOnly,

    /// <summary>For some weeks no year counts. Numbers: such weeks, weeks in all.</summary>
    WeeksWithoutYears,

    /// <summary>Runs with too many filled days were left out. Numbers: runs left out, runs that count.</summary>
    RunsLeftOut,

    /// <summary>Days of the weather were unknown and filled. Numbers: days filled, days of weather.</summary>
    DaysFilled,
}

/// <summary>A note beside a plan, in numbers: whoever shows it finds the words.</summary>
/// <param name="Code">What it is about; says what the numbers mean.</param>
/// <param name="Numbers">See <paramref name="Code"/>.</param>
/// <param name="Day">See <paramref name="Code"/>.</param>
public sealed record PlannerNote(PlannerNoteCode Code, IReadOnlyList<int> Numbers, LocalDate? Day = null)
{
    internal static PlannerNote Of(PlannerNoteCode code, params int[] numbers) => new(code, numbers);
}
