using FruitWatch.Model.Season;

namespace FruitWatch.Model.Tests.Season;

/// <summary>
/// Pins by month over every week of 2012–2014 as week of inoculation and 500 days from each, in Seattle and New York, against
/// the months in which the species is said to fruit.
/// </summary>
/// <remarks>
/// The seasons are of mushrooms in the wild or of unwatered beds; the planner's beds never dry out. Pins of a summer that a
/// wild bed would spend dry are to be expected, and are not evidence of anything.
/// </remarks>
public class PublishedSeasonTests(ITestOutputHelper output)
{
    /// <summary>
    /// Wine cap: May to October, with peaks in May–June and September–October (Masuno and Takagi 2012, Nagano Prefecture
    /// Forestry Research Center, special-products bulletin 26). Measured: 0.89 in Seattle, 0.90 in New York. The floor leaves
    /// a tenth for mild winters and Novembers, and is above what pins spread evenly over the year would give (0.50).
    /// </summary>
    [Theory]
    [InlineData("Seattle")]
    [InlineData("New York")]
    public void Wine_cap_pins_from_May_to_October(string city) =>
        Assert.InRange(Share(city, "wine-cap", [5, 6, 7, 8, 9, 10]), 0.85, 1);

    /// <summary>
    /// Where the model disagrees: the source has two peaks and a gap between them, the model none. July and August have 0.39
    /// of the pins in Seattle and 0.37 in New York, no less than their share of the six months.
    /// </summary>
    [Theory]
    [InlineData("Seattle")]
    [InlineData("New York")]
    public void Wine_cap_of_watered_beds_has_no_summer_gap_as_the_source_says(string city) =>
        Assert.InRange(Share(city, "wine-cap", [7, 8]), 0.33, 0.45);

    /// <summary>
    /// Wood blewit: September to December (encyclopaedias, for France and Japan); bedded in Ibaraki, early November to
    /// mid-December (Ibaraki Prefecture Forestry Technology Center 2011). Measured: all pins of both cities in November and
    /// December. The floor is that: the frost trigger allows nothing before, and winter nothing after.
    /// </summary>
    [Theory]
    [InlineData("Seattle")]
    [InlineData("New York")]
    public void Wood_blewit_pins_from_November_to_December(string city) =>
        Assert.Equal(1, Share(city, "wood-blewit", [11, 12]));

    /// <summary>
    /// Where the model disagrees: France has them from September, with the first cool nights. The model waits for a frost,
    /// which neither city has before November.
    /// </summary>
    [Theory]
    [InlineData("Seattle")]
    [InlineData("New York")]
    public void Wood_blewit_never_pins_in_September_or_October_though_the_wild_ones_do(string city) =>
        Assert.Equal(0, Share(city, "wood-blewit", [9, 10]));

    /// <summary>
    /// Where the model disagrees most. Oyster, cold strains: October to March in Europe (common horticultural practice, no
    /// better source). Measured: 0.43 in Seattle and 0.41 in New York, below the 0.50 of pins spread evenly over the year. A
    /// watered bed that is ready in spring pins in the cool of May, and from the first cool week of September on.
    /// </summary>
    [Theory]
    [InlineData("Seattle")]
    [InlineData("New York")]
    public void Cold_oyster_pins_more_often_outside_its_winter_season_than_in_it(string city) =>
        Assert.InRange(Share(city, "oyster-cold", [10, 11, 12, 1, 2, 3]), 0.35, 0.50);

    /// <summary>
    /// Where it agrees: with the spring and September let in, nothing is left in a hot summer. Seattle's July and August, with
    /// means of 20 °C, are cool enough for some. Measured: none in New York, 0.15 in Seattle.
    /// </summary>
    [Theory]
    [InlineData("Seattle", 0.20)]
    [InlineData("New York", 0)]
    public void Cold_oyster_keeps_out_of_the_hot_months(string city, double most) =>
        Assert.InRange(Share(city, "oyster-cold", [7, 8]), 0, most);

    /// <summary>
    /// Where the model disagrees: shiitake is said to fruit 6–18 months after inoculation (University of Maryland, Rural
    /// Enterprise Series 11), and is grown in both climates. Here its spawn, at 240 days of the best temperature and moisture,
    /// is not done within 12 months in any year: the planner must not be read as saying that it cannot be grown.
    /// </summary>
    [Theory]
    [InlineData("Seattle")]
    [InlineData("New York")]
    public void Shiitake_is_never_ready_within_12_months_though_growers_pick_some_by_then(string city)
    {
        var season = Planned.City(city, "shiitake").Species[0];

        Assert.Equal(SiteFit.Never, season.Fit);
        Assert.All(season.Weeks, week => Assert.Equal([(NoPickReason.SpawnRunNotDone, week.Years)], week.Failures.Select(f => (f.Key, f.Value))));
    }

    private double Share(string city, string species, int[] months)
    {
        var pins = Planned.City(city, species).Species[0].PinsByMonth;
        var share = months.Sum(month => pins[month - 1]) / (double)pins.Sum();
        output.WriteLine(FormattableString.Invariant($"{city}, {species}: pins by month {string.Join(" ", pins)}; in months {string.Join(" ", months)}: {share:F2}"));
        return share;
    }
}
