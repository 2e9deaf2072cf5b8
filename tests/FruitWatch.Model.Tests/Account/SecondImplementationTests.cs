using CsCheck;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Account;

/// <summary>
/// The model, many futures at once in vectors, against the same equations written a second time in plain scalars. Beds of all
/// species, materials, covers and mulches, any log, any weather.
/// </summary>
public class SecondImplementationTests
{
    private const double Tolerance = 1e-9;

    /// <summary>Beds of the catalogue's species, half of them with triggers and an earliest day at random, so that each kind is met often.</summary>
    private static readonly Gen<Bed> s_bed =
        from bed in AnyBed.Bed
        from own in Gen.Bool
        from soak in Gen.Select(Gen.Double[0, 20], Gen.Int[1, 9], (mm, days) => new SoakTrigger(mm, days)).Null()
        from frost in Gen.Select(Gen.Double[-4, 6], Gen.Int[1, 8], (mark, nights) => new FrostTrigger(mark, nights)).Null()
        from cooling in Gen.Select(Gen.Double[1, 8], Gen.Double[-5, 15], (delta, mark) => new CoolingTrigger(delta, mark)).Null()
        from earliest in Gen.Int[0, 20]
        select !own ? bed : bed with
        {
            Species = bed.Species with
            {
                SpawnRun = bed.Species.SpawnRun with { EarliestReadyDays = earliest },
                Triggers = new Triggers(soak, frost, cooling),
            },
        };

    /// <summary>Humid and dry air, so that the humidity counts, too; and now and then a heat that harms the spawn.</summary>
    private static readonly Gen<List<WeatherDay>> s_weather =
        Gen.Select(AnyBed.Weather, Gen.Double[15, 100].Array[AnyBed.Before + AnyBed.Days], Gen.Frequency((4, Gen.Const(0.0)), (1, Gen.Const(12.0))), (days, humidity, warmer) =>
            days.Select((day, i) => day with { Tmax = day.Tmax + warmer, Tmin = day.Tmin + warmer, Humidity = humidity[i] }).ToList());

    /// <summary>Beds further on, too: random ones rarely get beyond their spawn run within 200 days.</summary>
    private static readonly Gen<List<LogEntry>> s_log =
        Gen.Select(AnyBed.Log, Gen.Bool, Gen.Int[0, 40], (log, grown, day) =>
            grown ? [.. log, new MyceliumSeen(Made.Day0.PlusDays(day), 1)] : log);

    [Theory]
    [InlineData(5)]
    [InlineData(64)]
    public void Each_future_of_its_own_weather_agrees_with_the_plain_account(int futures) =>
        Gen.Select(s_bed, s_weather.Array[5], s_log).Sample((bed, weathers, log) =>
        {
            var forcing = new SiteForcing(weathers[0][0].Date, weathers[0].Count, futures, Made.AsGiven.Latitude);
            for (var day = 0; day < forcing.Days; day++)
            {
                for (var future = 0; future < futures; future++)
                    forcing.Set(day, future, weathers[future % weathers.Length][day], Made.AsGiven);
            }

            PlainAccount[] plain = [.. weathers.Select(weather => new PlainAccount(bed, log, weather, Made.AsGiven.Latitude))];
            Compare(bed, log, forcing, futures, plain, (state, _) => StartOf(state, weathers));
        }, iter: 40);

    [Theory]
    [InlineData(5)]
    [InlineData(64)]
    public void Futures_that_share_their_weather_but_not_their_multipliers_agree_with_the_plain_account(int futures) =>
        Gen.Select(s_bed, s_weather, s_log, Gen.Double[0.4, 2].Array[3], Gen.Double[0.5, 1.6].Array[3]).Sample((bed, weather, log, evaporation, growth) =>
        {
            var forcing = SiteForcing.Of(weather, Made.AsGiven);
            PlainAccount[] plain =
            [
                .. Enumerable.Range(0, 3).Select(i => new PlainAccount(bed, log, weather, Made.AsGiven.Latitude)
                {
                    EvaporationMultiplier = evaporation[i],
                    GrowthMultiplier = growth[i],
                }),
            ];
            Compare(bed, log, forcing, futures, plain, (state, lane) =>
            {
                state.EvaporationMultiplier[lane] = evaporation[lane % 3];
                state.GrowthMultiplier[lane] = growth[lane % 3];
            });
        }, iter: 40);

    [Fact]
    public void Futures_with_water_of_their_own_agree_with_the_plain_account() =>
        Gen.Select(s_bed, s_weather, s_log, Gen.Frequency((4, Gen.Const(0.0)), (1, Gen.Double[0, 30])).Array[AnyBed.Days].Array[5]).Sample((bed, weather, log, given) =>
        {
            var forcing = SiteForcing.Of(weather, Made.AsGiven);
            PlainAccount[] plain = [.. given.Select(water => new PlainAccount(bed, log, weather, Made.AsGiven.Latitude) { Given = water })];
            Compare(bed, log, forcing, 5, plain, (_, _) => { }, given);
        }, iter: 40);

    /// <summary>The random beds get everywhere: were a phase or an event never met, its agreement would say nothing.</summary>
    [Fact]
    public void The_random_beds_meet_every_phase_and_every_event()
    {
        var (phases, events) = (new HashSet<Phase>(), new HashSet<AccountEvent>());
        Gen.Select(s_bed, s_weather, s_log).Sample((bed, weather, log) =>
        {
            foreach (var day in new PlainAccount(bed, log, weather, Made.AsGiven.Latitude).Run(AnyBed.Days))
            {
                phases.Add(day.Phase);
                events.Add(day.Event);
            }
        }, iter: 500, threads: 1);

        Assert.Equal(Enum.GetValues<Phase>(), phases.Order());
        Assert.Equal(Enum.GetValues<AccountEvent>(), events.Order());
    }

    private static void Compare(
        Bed bed,
        List<LogEntry> log,
        SiteForcing forcing,
        int futures,
        PlainAccount[] plain,
        Action<BedState, int> setUp,
        double[][]? given = null)
    {
        var expected = plain.Select(account => account.Run(AnyBed.Days)).ToArray();
        var step = new BedStep(new BedPlan(bed, log, Made.Catalogue, AnyBed.Days), forcing.Latitude);
        var (state, result) = (new BedState(futures), new DayResult(futures));
        step.Start(state, forcing);
        for (var lane = 0; lane < futures; lane++)
            setUp(state, lane);
        var water = new double[given is null ? 0 : state.Stride];
        for (var day = 0; day < AnyBed.Days; day++)
        {
            for (var lane = 0; lane < water.Length; lane++)
                water[lane] = given![lane % given.Length][day];
            step.Advance(state, forcing, day, result, water);
            for (var lane = 0; lane < futures; lane++)
                AssertAgrees(expected[lane % expected.Length][day], state, result, lane);
        }
    }

    private static void AssertAgrees(PlainDay expected, BedState state, DayResult result, int lane)
    {
        Assert.Equal(
            (expected.Phase, expected.Event, expected.Flushes, expected.FrostNights),
            (state.PhaseOf(lane), result.EventOf(lane), state.Flushes[lane], state.FrostNights[lane]));
        Assert.Equal(expected.Water, state.Water[lane], Tolerance);
        Assert.Equal(expected.Mulch, state.Mulch[lane], Tolerance);
        Assert.Equal(expected.Bed, state.BedTemperature[lane], Tolerance);
        Assert.Equal(expected.Soil, state.SoilTemperature[lane], Tolerance);
        Assert.Equal(expected.SpawnRun, state.SpawnRun[lane], Tolerance);
        Assert.Equal(expected.Progress, state.Progress[lane], Tolerance);
    }

    /// <summary>Before the inoculation each weather warmed its bed its own way.</summary>
    private static void StartOf(BedState state, List<WeatherDay>[] weathers)
    {
        for (var lane = 0; lane < state.Stride; lane++)
        {
            var before = weathers[Math.Min(lane, state.Futures - 1) % weathers.Length].Take(AnyBed.Before).Select(day => day.Tmean!.Value).ToList();
            state.BedTemperature[lane] = before.TakeLast(10).Average();
            state.SoilTemperature[lane] = before.TakeLast(60).Average();
        }
    }
}
