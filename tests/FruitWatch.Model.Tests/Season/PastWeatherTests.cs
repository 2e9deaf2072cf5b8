using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Season;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Season;

/// <summary>Plans from weather that is short, has holes, or cannot be.</summary>
public class PastWeatherTests
{
    [Fact]
    public void Weather_too_short_for_a_run_gives_no_chance_and_says_how_short()
    {
        var plan = Plan(Cities.Seattle.Take(400));

        AssertKnowsNothing(plan);
        AssertNote(plan, PlannerNoteCode.NoWholeRun, 400, 500);
        AssertNote(plan, PlannerNoteCode.WeeksWithoutYears, 52, 52);
    }

    [Fact]
    public void No_weather_at_all_is_weather_too_short()
    {
        var plan = Plan([]);

        AssertKnowsNothing(plan);
        Assert.Null(plan.First);
        AssertNote(plan, PlannerNoteCode.NoWholeRun, 0, 500);
    }

    /// <summary>560 days: nine weeks start within the first 60.</summary>
    [Fact]
    public void A_plan_from_one_year_only_says_so()
    {
        var plan = Plan(Cities.Seattle.Take(560));

        AssertNote(plan, PlannerNoteCode.OneYearOnly, 9);
        AssertNote(plan, PlannerNoteCode.WeeksWithoutYears, 43, 52);
        var weeks = plan.Species[0].Weeks;
        Assert.All(weeks, week => Assert.Equal(week.Number <= 9 ? 1 : 0, week.Years));
        Assert.All(weeks.Take(9), week => Assert.True(week.Chance is 0.25 or 0.75));
        Assert.All(weeks.Skip(9), week => Assert.Null(week.Chance));
        Assert.Equal(9, plan.Species[0].Ranked.Count);
    }

    [Fact]
    public void Full_weather_of_several_years_needs_no_note() => Assert.Empty(Plan(Cities.Seattle).Notes);

    [Fact]
    public void A_hole_of_a_tenth_of_a_run_is_filled()
    {
        var plan = Plan(Without(new LocalDate(2013, 5, 1), 50));

        Assert.Empty(plan.LeftOut);
        AssertNote(plan, PlannerNoteCode.DaysFilled, 50, 1461);
        Assert.Equal(137, plan.Species[0].Weeks.Sum(week => week.Years));
    }

    [Fact]
    public void Runs_across_a_longer_hole_are_left_out_and_named()
    {
        var from = new LocalDate(2013, 5, 1);
        var plan = Plan(Without(from, 51));
        var all = Plan(Cities.Seattle).Species[0].Weeks.SelectMany(week => week.Runs).Select(run => run.Start).Order().ToList();

        // Those that hold the whole hole; whatever misses a day of it has 50 filled days at most.
        Assert.Equal(all.Where(start => start <= from && start.PlusDays(499) >= from.PlusDays(50)), plan.LeftOut.Select(run => run.Start));
        Assert.All(plan.LeftOut, run => Assert.Equal(51, run.FilledDays));
        AssertNote(plan, PlannerNoteCode.RunsLeftOut, plan.LeftOut.Count, all.Count - plan.LeftOut.Count);
        Assert.Equal(all.Except(plan.LeftOut.Select(run => run.Start)), plan.Species[0].Weeks.SelectMany(week => week.Runs).Select(run => run.Start).Order());
    }

    [Fact]
    public void A_single_unknown_value_is_filled_too()
    {
        var plan = Plan(Cities.Seattle.Select(day => day.Date == new LocalDate(2013, 5, 1) ? day with { Rain = null } : day));

        AssertNote(plan, PlannerNoteCode.DaysFilled, 1, 1461);
    }

    /// <summary>
    /// A station that reports from April to October: from 8 November on there is no usual day in any year, and every bed would
    /// have to come past it.
    /// </summary>
    [Fact]
    public void Weather_with_a_season_that_was_never_observed_stops_there_and_says_so()
    {
        var plan = Plan(Cities.Seattle.Where(day => day.Date.Month is >= 4 and <= 10));

        AssertKnowsNothing(plan);
        var note = Assert.Single(plan.Notes, note => note.Code == PlannerNoteCode.WeatherStops);
        Assert.Equal(new LocalDate(2012, 11, 8), note.Day);
        AssertNote(plan, PlannerNoteCode.NoWholeRun, Period.DaysBetween(new LocalDate(2012, 4, 1), new LocalDate(2012, 11, 8)), 500);
        Assert.Equal((new LocalDate(2012, 4, 1), new LocalDate(2012, 11, 7)), (plan.First, plan.Last));
    }

    [Fact]
    public void Weather_that_cannot_be_is_refused_with_its_day()
    {
        AssertRefused("2012-01-03 is there twice", [.. Cities.Seattle, Cities.Seattle[2]]);
        AssertRefused("2012-01-03 has Tmin 20 °C above Tmax 10 °C", Changed(day => day with { Tmax = 10, Tmin = 20 }));
        AssertRefused("2012-01-03 has a rain of -1 mm", Changed(day => day with { Rain = -1 }));
        AssertRefused("2012-01-03 has a Tmax of 451 °C", Changed(day => day with { Tmax = 451 }));
        AssertRefused("2012-01-03 has a Tmin of NaN °C", Changed(day => day with { Tmin = double.NaN }));
    }

    [Fact]
    public void A_question_that_cannot_be_is_refused_with_what_would_do()
    {
        var (days, ladder) = Cities.Of("Seattle");
        var wineCap = Made.Catalogue.Species["wine-cap"];

        Refused("name at least one", () => SeasonPlanner.Plan(days, ladder, [], new BedPattern(), Made.Catalogue));
        Refused("wine-cap was asked for twice", () => SeasonPlanner.Plan(days, ladder, [wineCap, wineCap], new BedPattern(), Made.Catalogue));
        Refused("latitude is 91", () => Plan(days, ladder with { Latitude = 91 }, new BedPattern()));
        Refused("Depth is 15; give 0.02 to 1 m", () => Plan(days, ladder, new BedPattern { Depth = 15 }));
        Refused("Shade is NaN", () => Plan(days, ladder, new BedPattern { Shade = double.NaN }));
        Refused("MulchCm is -1", () => Plan(days, ladder, new BedPattern { MulchCm = -1 }));
        Refused("Mulch is not named", () => Plan(days, ladder, new BedPattern { MulchCm = 3 }));
        Refused("Area is 0 m²", () => Plan(days, ladder, new BedPattern { Area = 0 }));
        Refused("Material is \"gravel\", which is not in the catalogue; give one of ", () => Plan(days, ladder, new BedPattern { Material = "gravel" }));
        Refused("Cover is 9; give one of None, Sheet, PiercedSheet", () => Plan(days, ladder, new BedPattern { Cover = (Model.Beds.Cover)9 }));
    }

    private static SeasonPlan Plan(IEnumerable<WeatherDay> days) => Planned.Plan([.. days], Cities.SeattleLadder, "wine-cap");

    private static SeasonPlan Plan(IReadOnlyList<WeatherDay> days, EvaporationLadder ladder, BedPattern pattern) =>
        SeasonPlanner.Plan(days, ladder, [Made.Catalogue.Species["wine-cap"]], pattern, Made.Catalogue);

    private static IEnumerable<WeatherDay> Without(LocalDate from, int days) =>
        Cities.Seattle.Where(day => day.Date < from || day.Date >= from.PlusDays(days));

    private static WeatherDay[] Changed(Func<WeatherDay, WeatherDay> change) =>
        [.. Cities.Seattle.Select(day => day.Date == new LocalDate(2012, 1, 3) ? change(day) : day)];

    private static void AssertRefused(string what, IReadOnlyList<WeatherDay> days) => Refused(what, () => Plan(days));

    private static void Refused(string what, Func<SeasonPlan> plan) =>
        Assert.Contains(what, Assert.Throws<ArgumentException>(plan).Message, StringComparison.Ordinal);

    private static void AssertKnowsNothing(SeasonPlan plan)
    {
        var season = Assert.Single(plan.Species);
        Assert.Equal(52, season.Weeks.Count);
        Assert.All(season.Weeks, week => Assert.True(week is { Years: 0, Chance: null, FirstPickDays.P10: null }));
        Assert.Equal((SiteFit.NotKnown, null), (season.Fit, season.Best));
    }

    private static void AssertNote(SeasonPlan plan, PlannerNoteCode code, params int[] numbers) =>
        Assert.Equal(numbers, Assert.Single(plan.Notes, note => note.Code == code).Numbers);
}
