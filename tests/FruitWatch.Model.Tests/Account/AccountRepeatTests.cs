using CsCheck;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

/// <summary>The account is a pure function: the same question has the same answer to the last bit, however it is asked.</summary>
public class AccountRepeatTests
{
    private const int Futures = 64;

    [Fact]
    public void Computed_again_it_is_the_same_to_the_last_bit() => Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log).Sample((bed, weather, log) =>
        Assert.Equal(Made.Run(bed, weather, log).Days, Made.Run(bed, weather, log).Days), iter: 50);

    [Fact]
    public void An_entry_that_was_made_and_undone_leaves_no_trace() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, AnyBed.Entry()).Sample((bed, weather, log, mistake) =>
        {
            var before = Made.Run(bed, weather, log);
            List<LogEntry> edited = [.. log, mistake];
            Made.Run(bed, weather, edited);
            edited.Remove(mistake);
            Assert.Equal(before.Days, Made.Run(bed, weather, edited).Days);
        }, iter: 50);

    [Fact]
    public void Up_to_the_day_of_an_entry_the_account_is_as_without_it() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, AnyBed.Entry()).Sample((bed, weather, log, entry) =>
        {
            var day = Period.DaysBetween(bed.Inoculated, entry.Date);
            // Material laid on the day of inoculation is part of the bed as it starts.
            if (entry is ToppedUp && day == 0)
                return;
            Assert.Equal(
                Made.Run(bed, weather, log).Days.Take(day),
                Made.Run(bed, weather, [.. log, entry]).Days.Take(day));
        }, iter: 50);

    [Fact]
    public void The_order_of_the_log_in_the_list_does_not_matter_where_times_differ() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log).Sample((bed, weather, log) =>
        {
            var timed = log.Select((entry, i) => entry with { Time = LocalTime.Midnight.PlusMinutes(i) }).ToList();
            Assert.Equal(Made.Run(bed, weather, timed).Days, Made.Run(bed, weather, Enumerable.Reverse(timed)).Days);
        }, iter: 50);

    [Fact]
    public void Each_of_64_futures_is_what_its_weather_alone_would_have_given() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather.Array[4], AnyBed.Log).Sample((bed, weathers, log) =>
        {
            var alone = weathers.Select(weather => Made.Run(bed, weather, log)).ToArray();
            var forcing = Together(weathers);
            var plan = new BedPlan(bed, log, Made.Catalogue, AnyBed.Days);
            var step = new BedStep(plan, forcing.Latitude);
            var (state, result) = (new BedState(Futures), new DayResult(Futures));
            // What comes before the inoculation is the past, one for all futures: take that of the first.
            step.Start(state, forcing);
            for (var lane = 0; lane < Futures; lane++)
                (state.BedTemperature[lane], state.SoilTemperature[lane]) = StartTemperatures(weathers[lane % 4]);
            for (var day = 0; day < AnyBed.Days; day++)
            {
                step.Advance(state, forcing, day, result);
                for (var future = 0; future < Futures; future++)
                    AssertSame(alone[future % 4].Days[day], state, result, future);
            }
        }, iter: 15);

    [Fact]
    public void Going_on_from_the_past_in_many_futures_is_the_account_gone_on() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, Gen.Int[1, AnyBed.Days - 2]).Sample((bed, weather, log, today) =>
        {
            var whole = Made.Run(bed, weather, log);
            var past = Made.Run(bed, weather.Take(AnyBed.Before + today).ToList(), log);
            var forcing = Together([weather]);
            var step = new BedStep(new BedPlan(bed, log, Made.Catalogue, AnyBed.Days), forcing.Latitude);
            var (state, result) = (new BedState(Futures), new DayResult(Futures));
            state.StartFrom(past.End);
            for (var day = today; day < AnyBed.Days; day++)
            {
                step.Advance(state, forcing, day, result);
                AssertSame(whole.Days[day], state, result, Futures - 1);
            }
        }, iter: 30);

    [Fact]
    public void A_state_that_served_other_beds_before_gives_the_same() =>
        Gen.Select(AnyBed.Bed.Array[3], AnyBed.Weather, AnyBed.Log).Sample((beds, weather, log) =>
        {
            var forcing = SiteForcing.Of(weather, Made.AsGiven);
            var (state, result) = (new BedState(1), new DayResult(1));
            var forward = beds.Select(bed => Last(bed, log, forcing, state, result)).ToList();
            var backward = beds.Reverse().Select(bed => Last(bed, log, forcing, state, result)).Reverse().ToList();
            Assert.Equal(forward, backward);
        }, iter: 30);

    /// <summary>
    /// From 1 July to 1 January is 184 days in every year: a bed of the south, 184 days later, meets the same cold years on the
    /// same days of its life. Evaporation is given here; by the sun it would differ by some percent, for the earth is nearest
    /// to it in January.
    /// </summary>
    [Fact]
    public void In_the_other_hemisphere_184_days_on_the_account_is_the_same() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, Gen.Int[0, 365]).Sample((bed, weather, log, later) =>
        {
            // The cold year may start on any day of the account.
            var north = BedAccount.Run(
                Moved(bed, later), log.Select(entry => entry with { Date = entry.Date.PlusDays(later) }),
                SiteForcing.Of(Moved(weather, later), Made.AsGiven), Made.Catalogue, weather[^1].Date.PlusDays(later));
            later += 184;
            var south = BedAccount.Run(
                Moved(bed, later), log.Select(entry => entry with { Date = entry.Date.PlusDays(later) }),
                SiteForcing.Of(Moved(weather, later), Made.AsGiven with { Latitude = -Made.AsGiven.Latitude }), Made.Catalogue, weather[^1].Date.PlusDays(later));

            Assert.Equal(north.Days.Select(day => day with { Date = default }), south.Days.Select(day => day with { Date = default }));
        }, iter: 50);

    [Fact]
    public void The_sun_of_the_other_hemisphere_half_a_year_on_is_the_same_within_10_percent()
    {
        for (var day = 1; day <= 365 - 184; day++)
        {
            var north = ReferenceEvapotranspiration.HargreavesSamani(20, 10, Sun.ExtraterrestrialRadiation(45, day));
            var south = ReferenceEvapotranspiration.HargreavesSamani(20, 10, Sun.ExtraterrestrialRadiation(-45, day + 184));
            Assert.InRange(south / north, 0.90, 1.10);
        }
    }

    private static Bed Moved(Bed bed, int days) => bed with
    {
        Inoculated = bed.Inoculated.PlusDays(days),
        Layers = [.. bed.Layers.Select(layer => layer with { Laid = layer.Laid.PlusDays(days) })],
    };

    private static List<WeatherDay> Moved(List<WeatherDay> weather, int days) =>
        [.. weather.Select(day => day with { Date = day.Date.PlusDays(days) })];

    private static SiteForcing Together(List<WeatherDay>[] weathers)
    {
        var forcing = new SiteForcing(weathers[0][0].Date, weathers[0].Count, Futures, Made.AsGiven.Latitude);
        for (var day = 0; day < weathers[0].Count; day++)
        {
            for (var future = 0; future < Futures; future++)
                forcing.Set(day, future, weathers[future % weathers.Length][day], Made.AsGiven);
        }

        return forcing;
    }

    private static (double Bed, double Soil) StartTemperatures(List<WeatherDay> weather)
    {
        var forcing = SiteForcing.Of(weather, Made.AsGiven);
        return (forcing.MeanBefore(AnyBed.Before, 10)!.Value, forcing.MeanBefore(AnyBed.Before, 60)!.Value);
    }

    private static (double Water, double Bed, double Run, Phase Phase) Last(
        Bed bed, List<LogEntry> log, SiteForcing forcing, BedState state, DayResult result)
    {
        var step = new BedStep(new BedPlan(bed, log, Made.Catalogue, AnyBed.Days), forcing.Latitude);
        step.Start(state, forcing);
        for (var day = 0; day < AnyBed.Days; day++)
            step.Advance(state, forcing, day, result);
        return (state.Water[0], state.BedTemperature[0], state.SpawnRun[0], state.PhaseOf(0));
    }

    private static void AssertSame(AccountDay day, BedState state, DayResult result, int future)
    {
        Assert.Equal(
            (day.Water, day.MulchWater, day.BedTemperature, day.SoilTemperature, day.SpawnRun, day.Phase, day.Flushes),
            (state.Water[future], state.Mulch[future], state.BedTemperature[future], state.SoilTemperature[future],
                state.SpawnRun[future], state.PhaseOf(future), state.Flushes[future]));
        Assert.Equal((day.Event, day.Moisture, day.Air), (result.EventOf(future), result.MoistureOf(future), result.AirOf(future)));
        if (day.Progress != 0)
            Assert.Equal(day.Progress, state.Progress[future]);
    }
}
