using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Verification.Backtest;
using NodaTime;

namespace FruitWatch.Model.Tests.Verification.Backtest;

public class TrueBedTests
{
    private static readonly BedCatalogue s_catalogue = BedCatalogue.BuiltIn;
    private static readonly SiteForcing s_weather = SiteForcing.Of(Cities.NewYork, new EvaporationLadder(40.7) { TemperatureOnly = true });

    private static readonly List<TrueBed> s_beds = [.. Enumerable.Range(0, 12).Select(number =>
    {
        var species = s_catalogue.Species["wine-cap"];
        var date = new LocalDate(2012, 4, 1).PlusDays(20 * number);
        var known = new Bed(species, date, [new Layer(s_catalogue.Materials["hardwood-chips"], 0.15, date)]) { Shade = 0.5 };
        return TrueBed.Live(number, known, species, s_weather, 400, s_catalogue, new Draws(4).Stream(1, number));
    })];

    [Fact]
    public void A_careful_grower_waters_on_the_morning_after_the_bed_fell_below_its_mark_and_lightly_at_first()
    {
        foreach (var bed in s_beds)
        {
            // The account of the true bed with the log's water, and nothing else of the log, is the truth.
            var water = bed.Log.OfType<WaterGiven>().ToList();
            var truth = BedAccount.Run(
                bed.Known with { EvaporationMultiplier = bed.Multipliers.Evaporation, GrowthMultiplier = bed.Multipliers.Growth },
                water, s_weather, s_catalogue, bed.LastDay);
            for (var day = 1; day < truth.Days.Count; day++)
            {
                var light = day < 7 || day is 7 or 9 or 11 or 13;
                var dry = truth.Days[day - 1].Moisture < truth.Days[day - 1].WaterMark && truth.Days[day - 1].Phase != Phase.Spent;
                Assert.Equal(light || dry, water.Any(w => w.Date == truth.Days[day].Date));
                Assert.Equal(truth.Days[day].Phase, bed.PhaseOn(truth.Days[day].Date));
            }

            Assert.Contains(water, w => w.Date > bed.Known.Inoculated.PlusDays(14));
        }
    }

    [Fact]
    public void Pins_are_written_down_within_two_days_and_looks_find_none_where_there_are_none()
    {
        var seen = s_beds.SelectMany(bed => bed.Log.OfType<PinsSeen>().Select(entry => (Bed: bed, entry.Date))).ToList();

        Assert.True(seen.Count >= 10, $"{seen.Count}");
        Assert.All(seen, pins =>
        {
            var came = Assert.NotNull(pins.Bed.NextPins(pins.Date.PlusDays(-2)));
            Assert.InRange(Period.DaysBetween(came, pins.Date), 0, 2);
        });
        Assert.Equal([0, 1, 2], seen.Select(pins => Period.DaysBetween(pins.Bed.NextPins(pins.Date.PlusDays(-2))!.Value, pins.Date)).Distinct().Order());
        foreach (var bed in s_beds)
            Assert.All(bed.Log.OfType<NoPinsFound>(), look => Assert.NotInRange(bed.PhaseOn(look.Date), Phase.Growing, Phase.Picking));
    }

    [Fact]
    public void A_bed_differs_from_the_catalogue_and_its_grower_does_not_know_it()
    {
        Assert.All(s_beds, bed => Assert.Equal((1.0, 1.0), (bed.Known.EvaporationMultiplier, bed.Known.GrowthMultiplier)));
        Assert.Equal(s_beds.Count, s_beds.Select(bed => bed.Multipliers).Distinct().Count());
        Assert.InRange(s_beds.Average(bed => Math.Log(bed.Multipliers.Evaporation)), -0.3, 0.3);
    }

    [Fact]
    public void The_log_before_a_day_has_nothing_of_that_day()
    {
        var day = s_beds[0].Log.OfType<WaterGiven>().Last().Date;

        Assert.All(s_beds[0].LogBefore(day), entry => Assert.True(entry.Date < day));
        Assert.Equal(s_beds[0].Log.Count(entry => entry.Date < day), s_beds[0].LogBefore(day).Count);
    }

    [Fact]
    public void A_strain_without_spread_is_the_catalogues_own()
    {
        foreach (var species in s_catalogue.Species.Values)
        {
            Assert.Equal(species, TrueStrain.Of(species, 0, new Draws(1)));
            Assert.NotEqual(species.Pinning.Band, TrueStrain.Of(species, 1, new Draws(1)).Pinning.Band);
        }
    }
}
