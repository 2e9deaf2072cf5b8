using FruitWatch.Model.Weather;
using FruitWatch.Service.Demo.Weather;
using NodaTime;

namespace FruitWatch.Service.Tests.Demo;

public sealed class DemoWeatherTests
{
    public static TheoryData<int> Seeds => [1, 2, 3, 7, 99, 2026];

    [Fact]
    public void The_same_seed_gives_the_same_days_bit_for_bit()
    {
        var one = DemoWeather.Invented(7);
        var other = DemoWeather.Invented(7);
        foreach (var place in DemoPlace.All)
            Assert.Equal(one.Of(place), other.Of(place));
        Assert.NotEqual(one.Of(DemoPlace.Valley), DemoWeather.Invented(8).Of(DemoPlace.Valley));
    }

    [Fact]
    public void The_days_are_those_of_every_other_machine()
    {
        // Written down once: a change of these means that everybody's demo changes.
        var day = DemoWeather.Invented(7).On(DemoPlace.Valley, new LocalDate(2026, 10, 13));
        Assert.Equal("?", FormattableString.Invariant($"{day.Tmax} {day.Tmin} {day.Rain} {day.Humidity}"));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Every_day_is_there_and_possible(int seed)
    {
        var weather = DemoWeather.Invented(seed);
        foreach (var place in DemoPlace.All)
        {
            var days = weather.Of(place);
            Assert.Equal(Period.DaysBetween(weather.First, weather.Last) + 1, days.Count);
            for (var i = 0; i < days.Count; i++)
                Assert.Equal(weather.First.PlusDays(i), days[i].Date);
            Assert.All(days, day => Assert.True(
                day.Tmin <= day.Tmax && day.Rain is >= 0 and <= 80 && day.Tmin > -25 && day.Tmax < 42 && day.Humidity is >= 30 and <= 99, day.ToString()));
        }
    }

    // A temperate valley with wet winters and dry summers. The bounds are this demo's own; no real place is meant.
    [Theory]
    [MemberData(nameof(Seeds))]
    public void The_climate_is_temperate_with_a_dry_summer(int seed)
    {
        var days = DemoWeather.Invented(seed).Of(DemoPlace.Valley);
        Assert.InRange(Mean(days, 1), 0, 5);
        Assert.InRange(Mean(days, 4), 7.5, 13);
        Assert.InRange(Mean(days, 7), 17, 23);
        Assert.InRange(Mean(days, 10), 8, 14);
        Assert.InRange(WetShare(days, 12), 0.38, 0.62);
        Assert.InRange(WetShare(days, 7), 0.05, 0.22);
        Assert.InRange(WetShare(days, null), 0.27, 0.41);
        Assert.InRange(days.Sum(d => d.Rain!.Value) / 11, 400, 800);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Every_summer_has_a_dry_spell_and_every_autumn_an_early_frost(int seed)
    {
        var weather = DemoWeather.Invented(seed);
        for (var year = weather.First.Year; year <= weather.Last.Year; year++)
        {
            var summer = Between(weather, DemoPlace.Valley, new LocalDate(year, 6, 1), new LocalDate(year, 9, 15));
            Assert.True(LongestDry(summer) >= 10, $"{year}: {LongestDry(summer)} dry days");
            var autumn = Between(weather, DemoPlace.Valley, new LocalDate(year, 9, 15), new LocalDate(year, 11, 14));
            Assert.True(autumn.Any(day => day.Tmin <= 0), $"no frost in {year}");
        }
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Rain_cools_summer_days(int seed)
    {
        var summer = DemoWeather.Invented(seed).Of(DemoPlace.Valley).Where(d => d.Date.Month is 6 or 7 or 8).ToLookup(d => d.Rain > 0);
        Assert.True(summer[true].Average(d => d.Tmax) < summer[false].Average(d => d.Tmax) - 2);
        Assert.True(summer[true].Average(d => d.Humidity) > summer[false].Average(d => d.Humidity) + 5);
    }

    [Fact]
    public void The_places_differ_as_places_of_one_region_do()
    {
        var weather = DemoWeather.Invented(7);
        var valley = weather.Of(DemoPlace.Valley);
        var hillside = weather.Of(DemoPlace.Hillside);
        var coast = weather.Of(DemoPlace.Coast);
        Assert.True(hillside.Average(d => d.Tmean) < valley.Average(d => d.Tmean) - 1);
        Assert.True(coast.Average(d => d.Tmax - d.Tmin) < valley.Average(d => d.Tmax - d.Tmin) - 2);
        Assert.True(coast.Count(d => d.Tmin <= 0) < valley.Count(d => d.Tmin <= 0) / 2);
        var agree = valley.Zip(coast).Count(pair => pair.First.Rain > 0 == pair.Second.Rain > 0) / (double)valley.Count;
        Assert.InRange(agree, 0.8, 0.98);
    }

    [Fact]
    public void Seattle_is_as_it_was_measured()
    {
        // First and last lines of the file as NOAA's days were published.
        var weather = DemoWeather.Seattle();
        Assert.Equal(new LocalDate(2012, 1, 1), weather.First);
        Assert.Equal(new LocalDate(2015, 12, 31), weather.Last);
        Assert.Equal(new WeatherDay(weather.First, 12.8, 5.0, 0), weather.Of(DemoPlace.Valley)[0]);
        Assert.Equal(new WeatherDay(weather.Last, 5.6, -2.1, 0), weather.Of(DemoPlace.Coast)[^1]);
        // 250 m higher: 1.6 °C colder by the ICAO standard atmosphere, 6.5 °C per km.
        Assert.Equal(11.2, weather.Of(DemoPlace.Hillside)[0].Tmax!.Value, 9);
    }

    private static double Mean(IEnumerable<WeatherDay> days, int month) => days.Where(d => d.Date.Month == month).Average(d => d.Tmean!.Value);

    private static double WetShare(IEnumerable<WeatherDay> days, int? month)
    {
        var wanted = days.Where(d => month is null || d.Date.Month == month).ToList();
        return wanted.Count(d => d.Rain > 0) / (double)wanted.Count;
    }

    private static List<WeatherDay> Between(DemoWeather weather, DemoPlace place, LocalDate from, LocalDate to) =>
        [.. weather.Of(place).Where(d => d.Date >= from && d.Date <= to)];

    private static int LongestDry(List<WeatherDay> days)
    {
        int longest = 0, now = 0;
        foreach (var day in days)
            longest = Math.Max(longest, now = day.Rain > 0 ? 0 : now + 1);
        return longest;
    }
}
