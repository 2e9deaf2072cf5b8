using FruitWatch.Model.Account;
using FruitWatch.Model.Season;
using FruitWatch.Model.Tests.Account;

namespace FruitWatch.Model.Tests.Season;

/// <summary>Past years side by side, each as it would be alone.</summary>
public class ReplayTests
{
    /// <summary>
    /// Lanes of 2012 (a leap year), 2013 and 2014 in one pass. Week 1 has no weather before it in 2012; week 30 of 2014 ends with
    /// the weather's last months.
    /// </summary>
    [Theory]
    [InlineData("Seattle", "wine-cap", 1)]
    [InlineData("Seattle", "oyster-cold", 12)]
    [InlineData("New York", "wood-blewit", 8)]
    [InlineData("New York", "almond-agaricus", 30)]
    public void Each_year_is_to_the_last_bit_the_account_of_that_bed_with_that_water(string city, string species, int week)
    {
        var (days, ladder) = Cities.Of(city);

        Assert.All(Planned.Run(days, ladder, species, week, 2012, 2013, 2014), AssertSame);
    }

    /// <summary>
    /// The blewit counts frosty nights from the start of the cold year, in the south 1 January. Under New York's weather that
    /// falls into the frost; from the same week it is 366 days off in a leap year and 365 in others.
    /// </summary>
    [Fact]
    public void The_cold_year_starts_on_its_own_date_in_each_year()
    {
        var (days, ladder) = Cities.Of("New York");
        var runs = Planned.Run(days, ladder with { Latitude = -ladder.Latitude }, "wood-blewit", 12, 2012, 2013, 2014);

        Assert.All(runs, AssertSame);
        Assert.All(runs, run => Assert.Contains(run.Account.Days.Zip(run.Account.Days.Skip(1)), pair =>
            pair.Second is { Date: { Month: 1, Day: 1 } } && pair.First.FrostNights > 1 && pair.Second.FrostNights <= 1));
    }

    [Theory]
    [InlineData("Seattle", "oyster-cold", 10)]
    [InlineData("New York", "wine-cap", 20)]
    public void A_bed_below_its_mark_in_the_evening_is_filled_up_the_next_morning(string city, string species, int week)
    {
        var (days, ladder) = Cities.Of(city);
        foreach (var (account, _) in Planned.Run(days, ladder, species, week, 2012, 2013))
        {
            foreach (var (evening, morning) in account.Days.Zip(account.Days.Skip(1)))
            {
                if (IsDry(evening))
                    Assert.Equal(Capacity(account, morning), evening.Water + morning.Given, 1e-9);
                else
                    Assert.True(morning.Given is 0 or 2);
            }
        }
    }

    [Theory]
    [InlineData("Seattle", 12)]
    [InlineData("New York", 20)]
    public void A_bed_of_chips_is_never_below_its_mark_on_two_evenings_in_a_row(string city, int week)
    {
        var (days, ladder) = Cities.Of(city);
        foreach (var (account, _) in Planned.Run(days, ladder, "wine-cap", week, 2012, 2013))
        {
            Assert.True(account.Days.Count(IsDry) > 10);
            Assert.DoesNotContain(account.Days.Zip(account.Days.Skip(1)), pair => IsDry(pair.First) && pair.Second.Moisture < pair.Second.WaterMark);
        }
    }

    /// <summary>
    /// What one watering a day cannot do: 15 cm of straw settle and rot to under 4 cm in 14 months and hold 6 mm then. In dry
    /// weather they dry out within the day, and once dry they shed part of what they are given.
    /// </summary>
    [Fact]
    public void Straw_in_its_second_summer_dries_out_although_it_is_filled_up_every_morning()
    {
        var (days, ladder) = Cities.Of("Seattle");

        var (account, _) = Planned.Run(days, ladder, "oyster-cold", 10, 2012).Single();

        var last = account.Days.Where(day => day.Moisture < 0.05 && day.Phase != Phase.Spent).ToList();
        Assert.NotEmpty(last);
        Assert.All(last, day => Assert.True(day.Depth < 0.04 && day.AvailableStore < 6.5));
    }

    [Fact]
    public void In_week_one_it_is_watered_lightly_every_day_and_in_week_two_every_other_day()
    {
        // No evaporation: it never needs more.
        var days = Planned.Days(i => Made.Weather(default));

        var (_, lane) = Planned.Run(days, Made.AsGiven, "wine-cap", 1, 2024).Single();

        Assert.Equal([2, 2, 2, 2, 2, 2, 2, 2, 0, 2, 0, 2, 0, 2, 0, 0], lane.Take(16).Select(day => day.Given));
        Assert.All(lane.Skip(14), day => Assert.Equal(0, day.Given));
    }

    [Fact]
    public void A_spent_bed_is_watered_no_more()
    {
        var days = Planned.Days(i => Made.Weather(default, mean: 20, et0: 4));

        var (_, lane) = Planned.Run(days, Made.AsGiven, "oyster-golden", 1, 2024).Single();

        var spent = lane.FindIndex(day => day.Phase == Phase.Spent);
        Assert.InRange(spent, 50, 400);
        Assert.Contains(lane.Take(spent).TakeLast(30), day => day.Given > 0);
        Assert.All(lane.Skip(spent + 1), day => Assert.Equal(0, day.Given));
    }

    [Fact]
    public void A_day_of_several_years_allocates_nothing()
    {
        var (days, ladder) = Cities.Of("Seattle");
        var past = PastWeather.Of(days, ladder);
        var replay = new Replay(3, ladder.Latitude);
        var bed = new TrialBed(new BedPattern().For(Made.Catalogue.Species["wine-cap"], Made.Catalogue, TrialBed.Day0), Made.Catalogue, ladder.Latitude);
        replay.Load(past, [0, 366, 731]);
        replay.Run(bed, 1);

        replay.Start(bed);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var day = 0; day < SeasonPlanner.RunDays; day++)
            replay.Advance(day);

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static bool IsDry(AccountDay day) => day.Moisture < day.WaterMark && day.Phase != Phase.Spent;

    private static double Capacity(BedAccount account, AccountDay day)
    {
        var material = account.Plan.Bed.Layers[0].Material;
        return 1000 * material.ThetaCc * day.Depth;
    }

    private static void AssertSame((BedAccount Account, List<Lane> Days) run)
    {
        foreach (var (alone, lane) in run.Account.Days.Zip(run.Days))
        {
            Assert.Equal(
                new Lane(alone.Given, alone.Water, alone.BedTemperature, alone.SoilTemperature, alone.SpawnRun, alone.Phase, alone.Flushes, alone.FrostNights),
                lane);
        }
    }
}
