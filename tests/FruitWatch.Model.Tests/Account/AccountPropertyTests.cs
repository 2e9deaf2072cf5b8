using CsCheck;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Weather;

namespace FruitWatch.Model.Tests.Account;

/// <summary>What holds for every bed in every weather with every log.</summary>
public class AccountPropertyTests
{
    [Fact]
    public void Water_is_neither_made_nor_lost() => Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log).Sample((bed, weather, log) =>
    {
        var account = Made.Run(bed, weather, log);
        var start = StartWater(bed, weather, log);
        var (water, mulch) = (start, 0.0);
        foreach (var day in account.Days)
        {
            Assert.Equal(
                day.Filling + day.Inflow - day.PassedThrough - day.Drained - day.Evaporated + day.Corrected, day.Water - water, 1e-9);
            Assert.Equal(day.RainToMulch - day.EvaporatedFromMulch, day.MulchWater - mulch, 1e-9);
            Assert.Equal(day.Rain + day.Given, day.RainToMulch + day.Inflow, 1e-9);
            Assert.All(
                new[] { day.Rain, day.Inflow, day.Given, day.PassedThrough, day.Drained, day.Evaporated, day.EvaporatedFromMulch, day.MulchWater },
                flow => Assert.True(flow >= -1e-12));
            (water, mulch) = (day.Water, day.MulchWater);
        }
    }, iter: 200);

    [Fact]
    public void Every_figure_stays_within_its_bounds() => Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log).Sample((bed, weather, log) =>
    {
        var account = Made.Run(bed, weather, log);
        var flushes = 0;
        foreach (var day in account.Days)
        {
            Assert.True(day.Moisture >= -1e-9, "never below the practical lower limit");
            Assert.True(day.Air >= -1e-9, "never above saturation");
            Assert.InRange(day.WetBasis, 0, 1);
            Assert.InRange(day.SpawnRun, 0, 1);
            Assert.InRange(day.Progress, 0, 1);
            Assert.InRange(day.MoistureFactor, 0, 1);
            Assert.InRange(day.PinFactor, 0, 1);
            Assert.InRange(day.GrowFactor, 0, 1);
            Assert.InRange(day.HumidityFactor, 0.1, 1);
            Assert.InRange(day.Suitability, 0, 100);
            Assert.True(day.Flushes >= 0 && Math.Abs(day.Flushes - flushes) <= 2);
            Assert.True(day.FrostNights >= 0 && double.IsFinite(day.BedTemperature) && double.IsFinite(day.SoilTemperature));
            Assert.True(day.Depth > 0 && day.AvailableStore > 0 && day.WaterMark is > 0 and < 1);
            if (day.Phase is Phase.SpawnRun or Phase.Ready or Phase.Spent)
                Assert.Equal(0, day.Progress);
            flushes = day.Flushes;
        }
    }, iter: 200);

    [Fact]
    public void The_bed_is_never_warmer_or_colder_than_what_surrounds_it_has_been() => Gen.Select(AnyBed.Bed, AnyBed.Weather).Sample((bed, weather) =>
    {
        var warmest = weather.Max(day => day.Tmean!.Value) + bed.SunOffset;
        var coldest = weather.Min(day => day.Tmean!.Value);
        Assert.All(Made.Run(bed, weather).Days, day =>
        {
            Assert.InRange(day.BedTemperature, coldest - 1e-9, warmest + 1e-9);
            Assert.InRange(day.SoilTemperature, coldest - 1e-9, warmest + 1e-9);
        });
    }, iter: 100);

    /// <summary>Holds whatever the layer sheds, drains or loses: each step keeps the order of two stores.</summary>
    [Fact]
    public void More_rain_never_dries_a_bed() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, Gen.Int[0, AnyBed.Before + AnyBed.Days - 1], Gen.Double[0, 50]).Sample((bed, weather, log, when, more) =>
        {
            var wetter = weather.Select((day, i) => i == when ? day with { Rain = day.Rain + more } : day).ToList();
            foreach (var (dry, wet) in Made.Run(bed, weather, log).Days.Zip(Made.Run(bed, wetter, log).Days))
            {
                Assert.True(wet.Water >= dry.Water - 1e-9);
                Assert.True(wet.MulchWater >= dry.MulchWater - 1e-9);
            }
        }, iter: 200);

    [Fact]
    public void More_water_given_never_dries_a_bed() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Log, Gen.Int[0, AnyBed.Days - 1], Gen.Double[0, 50]).Sample((bed, weather, log, when, more) =>
        {
            LogEntry[] wateredToo = [.. log, new WaterGiven(Made.Day0.PlusDays(when), more)];
            foreach (var (dry, wet) in Made.Run(bed, weather, log).Days.Zip(Made.Run(bed, weather, wateredToo).Days))
                Assert.True(wet.Water >= dry.Water - 1e-9);
        }, iter: 200);

    /// <summary>
    /// A cover keeps rain out, and keeps water in: over a dry spell the covered bed is the wetter one. So of a cover alone it
    /// holds that it lets no more rain through and no more vapour out.
    /// </summary>
    [Fact]
    public void A_cover_lets_no_more_rain_in_and_with_nothing_evaporating_never_wets_a_bed() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Watering, Gen.Bool).Sample((bed, weather, log, pierced) =>
        {
            var damp = weather.Select(day => day with { FeedEvapotranspiration = 0 }).ToList();
            foreach (var (open, covered) in Made.Run(bed with { Cover = Cover.None }, damp, log).Days.Zip(Made.Run(Covered(bed, pierced), damp, log).Days))
            {
                Assert.True(covered.Rain <= open.Rain);
                Assert.True(covered.Water <= open.Water + 1e-9);
                Assert.True(covered.MulchWater <= open.MulchWater + 1e-9);
            }
        }, iter: 200);

    [Fact]
    public void With_no_rain_a_cover_never_dries_a_bed() =>
        Gen.Select(AnyBed.Bed, AnyBed.Weather, AnyBed.Watering, Gen.Bool).Sample((bed, weather, log, pierced) =>
        {
            var dry = weather.Select(day => day with { Rain = 0 }).ToList();
            foreach (var (open, covered) in Made.Run(bed with { Cover = Cover.None }, dry, log).Days.Zip(Made.Run(Covered(bed, pierced), dry, log).Days))
                Assert.True(covered.Water >= open.Water - 1e-9);
        }, iter: 200);

    [Fact]
    public void On_a_dry_summer_day_the_covered_bed_is_the_wetter_one()
    {
        var weather = Made.Same(10, et0: 5);

        Assert.True(Made.Run(Made.Bed() with { Cover = Cover.Sheet }, weather).Days[^1].Water > Made.Run(Made.Bed(), weather).Days[^1].Water + 10);
    }

    private static Bed Covered(Bed bed, bool pierced) => bed with { Cover = pierced ? Cover.PiercedSheet : Cover.Sheet };

    /// <summary>Water on the evening before, from the bed's description.</summary>
    private static double StartWater(Bed bed, IReadOnlyList<WeatherDay> weather, List<LogEntry> log)
    {
        var layers = bed.Layers.Concat(log.OfType<ToppedUp>().Where(entry => entry.Date == bed.Inoculated)
            .Select(entry => new Layer(entry.Material, entry.Depth, entry.Date)));
        double low = 0, capacity = 0;
        foreach (var (material, depth, laid) in layers)
        {
            var years = NodaTime.Period.DaysBetween(laid, bed.Inoculated) / 365.25;
            var now = depth * (1 - material.Settling * (1 - Math.Exp(-3 * years))) * Math.Exp(-material.Decay * years / 2);
            low += 1000 * material.ThetaLow * now;
            capacity += 1000 * material.ThetaCc * now;
        }

        Assert.NotEmpty(weather);
        return Math.Max(low, capacity * bed.Wetness);
    }
}
