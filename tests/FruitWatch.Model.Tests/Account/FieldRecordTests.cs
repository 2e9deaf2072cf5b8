using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Tests.Account;

/// <summary>
/// Wine cap in 72 beds of 1 m² in Missouri in 2006: first mushrooms 44 days after inoculation on 30 August, and 58 days after
/// inoculation on 19 July (University of Missouri, research abstract, repository item 10355/1545).
/// </summary>
/// <remarks>
/// The field's own weather was not published. The beds are run here as such beds are kept (15 cm of hardwood chips under 3 cm of
/// straw, half shade, watered every other day), under the weather of two other cities in four other years. What can be asked
/// is whether the dates come out near the record in a like climate (New York, 40.7° N, hot August, warm September) and move
/// the right way in an unlike one (Seattle, cool and maritime).
/// </remarks>
public class FieldRecordTests(ITestOutputHelper output)
{
    private static readonly AnnualDate s_lateSummer = new(8, 30);
    private static readonly AnnualDate s_midsummer = new(7, 19);

    /// <summary>Measured: 46–49 days. Accepted: a week to either side of the record's 44.</summary>
    [Fact]
    public void Sown_on_30_August_in_New_York_it_is_picked_near_the_recorded_44_days() =>
        Assert.All(FirstPicks("New York", s_lateSummer), days => Assert.InRange(days, 44 - 7, 44 + 7));

    /// <summary>
    /// Measured: 52–66 days; July heat holds pins back by a different time each year. Accepted: ten days to either side of the
    /// record's 58.
    /// </summary>
    [Theory]
    [InlineData("New York")]
    [InlineData("Seattle")]
    public void Sown_on_19_July_it_is_picked_near_the_recorded_58_days(string city) =>
        Assert.All(FirstPicks(city, s_midsummer), days => Assert.InRange(days, 58 - 10, 58 + 10));

    /// <summary>Sown later, it was picked sooner after: no more heat to wait out.</summary>
    [Fact]
    public void In_New_York_the_later_sowing_waits_less_as_in_the_record() =>
        Assert.All(
            FirstPicks("New York", s_lateSummer).Zip(FirstPicks("New York", s_midsummer)),
            pair => Assert.True(pair.First < pair.Second));

    /// <summary>
    /// Where the model does not agree with the record: in Seattle's autumn the spawn takes 44–66 days to run and the first
    /// pick comes after 60–86. Whether a bed there would be quicker nobody has published.
    /// </summary>
    [Fact]
    public void Sown_on_30_August_in_cool_Seattle_it_is_picked_weeks_later_than_the_record()
    {
        var picks = FirstPicks("Seattle", s_lateSummer);

        Assert.All(picks, days => Assert.InRange(days, 58 + 1, 90));
    }

    private List<int> FirstPicks(string city, AnnualDate day)
    {
        List<int> picks = [];
        for (var year = 2012; year <= 2015; year++)
        {
            var sown = day.InYear(year);
            var pick = Account(city, sown).Days.First(d => d.Event == AccountEvent.Harvest).Date;
            picks.Add(Period.DaysBetween(sown, pick));
            output.WriteLine($"{city}, sown {sown:uuuu-MM-dd}: first pick after {picks[^1]} days");
        }

        return picks;
    }

    private static BedAccount Account(string city, LocalDate sown)
    {
        var (days, ladder) = Cities.Of(city);
        var bed = Made.Bed() with
        {
            Inoculated = sown,
            Layers = [new Layer(Made.Catalogue.Materials["hardwood-chips"], 0.15, sown)],
            Shade = 0.5,
            MulchCm = 3,
            Mulch = Made.Catalogue.Materials["cereal-straw"],
        };
        var until = LocalDate.Min(days[^1].Date, sown.PlusDays(120));
        var watering = Enumerable.Range(0, 60).Select(i => new WaterGiven(sown.PlusDays(2 * i + 1), 6));
        return BedAccount.Run(bed, watering, SiteForcing.Of(days, ladder), Made.Catalogue, until);
    }
}
