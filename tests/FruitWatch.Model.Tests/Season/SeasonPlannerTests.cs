using FruitWatch.Model.Beds;
using FruitWatch.Model.Season;
using FruitWatch.Model.Tests.Account;
using NodaTime;

namespace FruitWatch.Model.Tests.Season;

public class SeasonPlannerTests
{
    private static readonly string[] s_three = ["wine-cap", "oyster-cold", "wood-blewit"];

    [Fact]
    public void Weeks_come_by_the_share_of_years_with_a_pick_then_by_water()
    {
        foreach (var season in Planned.City("New York", s_three).Species)
        {
            Assert.Equal(StartWeek.Count, season.Ranked.Count);
            foreach (var (better, worse) in season.Ranked.Zip(season.Ranked.Skip(1)))
            {
                var (more, less) = ((double)better.Picked / better.Years, (double)worse.Picked / worse.Years);
                Assert.True(more >= less);
                Assert.True(more > less || better.Litres.P50 <= worse.Litres.P50);
            }

            Assert.Same(season.Ranked[0], season.Best);
        }
    }

    /// <summary>2012–2015 is four years; 500 days on from mid-August 2014 the weather ends.</summary>
    [Fact]
    public void Only_years_whose_weather_reaches_500_days_on_count()
    {
        var weeks = Planned.City("Seattle", "wine-cap").Species[0].Weeks;

        Assert.Equal(Enumerable.Range(1, 52), weeks.Select(week => week.Number));
        Assert.All(weeks, week => Assert.Equal(week.Number <= 33 ? 3 : 2, week.Years));
        Assert.Equal(new LocalDate(2012, 1, 8), weeks[1].Runs[0].Start);
        Assert.Equal(new LocalDate(2014, 8, 13), weeks[32].Runs[^1].Start);
        Assert.All(weeks.SelectMany(week => week.Runs), run => Assert.True(run.Start.PlusDays(499) <= new LocalDate(2015, 12, 31)));
    }

    [Fact]
    public void A_chance_is_never_0_or_1_and_belongs_to_its_k_of_n()
    {
        foreach (var week in Planned.City("New York", s_three).Species.SelectMany(season => season.Weeks))
        {
            Assert.Equal(week.Runs.Count(run => run.FirstPickDays <= 365), week.Picked);
            Assert.Equal((week.Picked + 0.5) / (week.Years + 1), week.Chance);
            Assert.Equal(week.Years - week.Picked, week.Failures.Values.Sum());
        }
    }

    [Fact]
    public void Percentiles_are_values_of_the_years_and_dates_are_counted_from_the_weeks_first_day()
    {
        var week = Planned.City("New York", "wine-cap").Species[0].Weeks[12];
        int?[] days = [.. week.Runs.Select(run => run.FirstPickDays).Order()];

        Assert.Equal((days[0], days[1], days[2]), ((int?)week.FirstPickDays.P10, (int?)week.FirstPickDays.P50, (int?)week.FirstPickDays.P90));
        Assert.Equal(new LocalDate(2027, 3, 26), week.StartIn(2027));
        Assert.Equal(new LocalDate(2027, 3, 26).PlusDays(days[1]!.Value), week.FirstPickFrom(2027).P50);
    }

    /// <summary>Ten years, of which three never: the median is the fifth of the seven, and nine in ten there is none.</summary>
    [Fact]
    public void Years_without_count_as_later_than_all_others() =>
        Assert.Equal(new Spread(10, 50, null), Spread.Of([70, null, 60, 10, null, 50, 40, 20, 30, null]));

    [Fact]
    public void Of_ten_years_the_percentiles_are_the_first_the_fifth_and_the_ninth() =>
        Assert.Equal(new Spread(1, 5, 9), Spread.Of([10, 9, 8, 7, 6, 5, 4, 3, 2, 1]));

    [Fact]
    public void The_plan_does_not_depend_on_the_number_of_threads()
    {
        var (days, ladder) = Cities.Of("New York");
        var species = Made.Catalogue.Species.Values.ToList();

        var one = SeasonPlanner.Plan(days, ladder, species, new BedPattern(), Made.Catalogue, threads: 1);
        var two = SeasonPlanner.Plan(days, ladder, species, new BedPattern(), Made.Catalogue, threads: 2);

        foreach (var (a, b) in one.Species.Zip(two.Species))
        {
            Assert.Equal(a.Weeks.SelectMany(week => week.Runs), b.Weeks.SelectMany(week => week.Runs));
            Assert.Equal(a.Ranked.Select(week => week.Number), b.Ranked.Select(week => week.Number));
            Assert.Equal(a.PinsByMonth, b.PinsByMonth);
        }
    }

    [Fact]
    public void What_else_is_asked_for_leaves_a_species_plan_alone()
    {
        var alone = Planned.City("Seattle", "wood-blewit").Species[0];
        var among = Planned.City("Seattle", s_three).Species[2];

        Assert.Equal(alone.Weeks.SelectMany(week => week.Runs), among.Weeks.SelectMany(week => week.Runs));
    }

    [Fact]
    public void A_grower_can_ask_for_a_bed_of_their_own()
    {
        var (days, ladder) = Cities.Of("New York");
        var pattern = new BedPattern
        {
            Material = "cereal-straw",
            Depth = 0.2,
            Shade = 0.8,
            MulchCm = 3,
            Mulch = "shredded-leaves",
            Cover = Cover.PiercedSheet,
            Area = 4,
        };

        var own = SeasonPlanner.Plan(days, ladder, [Made.Catalogue.Species["wine-cap"]], pattern, Made.Catalogue).Species[0];
        var usual = Planned.City("New York", "wine-cap").Species[0];

        Assert.Equal(("cereal-straw", "hardwood-chips"), (own.Material.Key, usual.Material.Key));
        Assert.All(own.Weeks.Zip(usual.Weeks), pair => Assert.True(pair.First.Litres.P50 < pair.Second.Litres.P50));
    }

    [Fact]
    public void Pins_of_the_weeks_add_up_to_those_of_the_species()
    {
        var season = Planned.City("New York", "wine-cap").Species[0];

        Assert.Equal(Enumerable.Range(0, 12).Select(month => season.Weeks.Sum(week => week.PinsByMonth[month])), season.PinsByMonth);
        Assert.True(season.PinsByMonth.Sum() >= season.Weeks.SelectMany(week => week.Runs).Sum(run => run.Flushes));
    }

    [Fact]
    public void Days_may_come_in_any_order()
    {
        var (days, ladder) = Cities.Of("Seattle");

        Assert.Equal(
            Planned.Plan(days, ladder, "wine-cap").Species[0].Weeks.SelectMany(week => week.Runs),
            Planned.Plan([.. days.Reverse()], ladder, "wine-cap").Species[0].Weeks.SelectMany(week => week.Runs));
    }

    [Theory]
    [InlineData("wine-cap", SiteFit.EveryYear)]
    [InlineData("wood-blewit", SiteFit.Never)]
    public void Whether_a_species_suits_Seattle_is_told_by_its_best_week(string species, SiteFit fit)
    {
        var season = Planned.City("Seattle", species).Species[0];

        Assert.Equal(fit, season.Fit);
        Assert.Equal(fit == SiteFit.Never, season.BestWeeks.Count == 0);
    }
}
