using FruitWatch.Model.Weather;
using FruitWatch.Service.Weather;
using NodaTime;

namespace FruitWatch.Service.Tests.Weather;

public sealed class SourceTests
{
    private static readonly LocalDate s_day = new(2026, 5, 12);
    private static readonly DaySource s_station = new(SourceKind.Station, 1, "Hill Station");
    private static readonly DaySource s_archive = new(SourceKind.Archive, 2, "Archive");
    private static readonly DaySource s_past = new(SourceKind.ForecastPast, 3, "Forecast");
    private static readonly DaySource s_forecast = new(SourceKind.Forecast, 3, "Forecast");

    [Fact]
    public void For_each_value_the_most_trusted_source_wins_and_says_so()
    {
        var merged = SiteWeather.Merge(
            [
                (s_station, [Day(0, 20, 10, null), Day(1, 21, null, 3)]),
                (s_archive, [Day(0, 30, 15, 5), Day(1, 31, 16, 6), Day(2, 32, 17, null)]),
                (s_past, [Day(2, 40, 20, 7), Day(3, 41, 21, 8)]),
                (s_forecast, [Day(3, 50, 25, 9), Day(4, 51, 26, 10)]),
            ],
            new Dictionary<LocalDate, double> { [s_day.PlusDays(1)] = 2.5 });

        Assert.Equal((20, 10, 5), Values(merged, 0));
        Assert.Equal(new DaySources(s_station, s_archive), merged.On(s_day));
        // The station has no minimum that day, so that both extremes are the archive's; rain is the grower's own.
        Assert.Equal((31, 16, 2.5), Values(merged, 1));
        Assert.Equal(new DaySources(s_archive, DaySource.Gauge), merged.On(s_day.PlusDays(1)));
        Assert.Equal((32, 17, 7), Values(merged, 2));
        Assert.Equal(new DaySources(s_archive, s_past), merged.On(s_day.PlusDays(2)));
        Assert.Equal((41, 21, 8), Values(merged, 3));
        Assert.Equal(new DaySources(s_past, s_past), merged.On(s_day.PlusDays(3)));
        Assert.Equal(new DaySources(s_forecast, s_forecast), merged.On(s_day.PlusDays(4)));
        Assert.Equal(default, merged.On(s_day.PlusDays(5)));
        Assert.Equal(default, merged.On(s_day.PlusDays(-1)));
    }

    [Fact]
    public void The_past_of_a_forecast_feed_is_called_what_it_is()
    {
        Assert.Contains("not measured", Service.Text.Words.For("en").SourcesName(s_past), StringComparison.Ordinal);
        Assert.Contains("sin medir", Service.Text.Words.For("es").SourcesName(s_past), StringComparison.Ordinal);
        Assert.Equal("station (Hill Station)", Service.Text.Words.For("en").SourcesName(s_station));
    }

    [Fact]
    public void The_climate_counts_observed_days_by_month_and_names_its_sources()
    {
        var days = Enumerable.Range(0, 730).Select(i => new LocalDate(2024, 1, 1).PlusDays(i)).ToList();
        var merged = SiteWeather.Merge(
            [
                (s_station, days.Where(date => date.Year == 2024).Select(date => new WeatherDay(date, date.Month, date.Month - 8, date.Day <= 10 ? 2 : 0.5))),
                (s_archive, days.Select(date => new WeatherDay(date, date.Month + 2, date.Month - 6, 0))),
                (s_forecast, days.Select(date => new WeatherDay(date.PlusYears(4), 50, 40, 100).From(Provenance.Forecast))),
            ],
            new Dictionary<LocalDate, double>());

        var climate = SiteClimate.Of(7, merged);

        var june = climate.Months[5];
        Assert.Equal((7, -1), (june.TmaxC!.Value, june.TminC!.Value));
        Assert.Equal((10 * 2 + 20 * 0.5) / 2, june.RainMm!.Value, 9);
        Assert.Equal(5, june.WetDays!.Value, 9);
        Assert.Equal((2, 2), (june.TemperatureYears, june.RainYears));
        Assert.Equal([SourceKind.Station, SourceKind.Archive], climate.Sources.Select(source => source.Kind));
        Assert.Equal([366, 364], climate.Sources.Select(source => source.RainDays));
    }

    private static WeatherDay Day(int ahead, double? tmax, double? tmin, double? rain) => new(s_day.PlusDays(ahead), tmax, tmin, rain);

    private static (double, double, double) Values(MergedWeather merged, int ahead)
    {
        var day = merged.Days.Single(day => day.Date == s_day.PlusDays(ahead));
        return (day.Tmax!.Value, day.Tmin!.Value, day.Rain!.Value);
    }
}
