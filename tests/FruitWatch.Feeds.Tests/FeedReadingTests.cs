using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Feeds.Tests;

public sealed class FeedReadingTests
{
    private static readonly LocalDate Today = new(2026, 5, 5);

    [Fact]
    public void Days_before_today_are_observed_and_the_others_forecast()
    {
        var weather = Reading(FeedProvides.Both, Day(-1), Day(0), Day(1)).ToWeather();
        Assert.Equal([Provenance.Observed, Provenance.Forecast, Provenance.Forecast], weather.Select(day => day.RainFrom));
        Assert.Equal([Provenance.Observed, Provenance.Forecast, Provenance.Forecast], weather.Select(day => day.TmaxFrom));
    }

    [Fact]
    public void A_station_never_forecasts_not_even_today() =>
        Assert.Equal(Provenance.Observed, Reading(FeedProvides.History, Day(0)).ToWeather().Single().RainFrom);

    [Theory]
    [InlineData(FeedProvides.Forecast)]
    [InlineData(FeedProvides.Ensemble)]
    public void A_forecast_of_yesterday_is_no_observation(FeedProvides provides) =>
        Assert.Equal(Provenance.Forecast, Reading(provides, Day(-1)).ToWeather().Single().RainFrom);

    [Fact]
    public void An_incomplete_value_is_unknown_to_the_model_and_rain_not_zero()
    {
        var day = Day(1) with { Tmax = new FeedValue(18, 0.5, false), Rain = new FeedValue(0, 0.5, false) };
        var weather = Reading(FeedProvides.Both, day).ToWeather().Single();
        Assert.Null(weather.Tmax);
        Assert.Null(weather.Rain);
        Assert.Equal((Provenance.Unknown, Provenance.Unknown), (weather.TmaxFrom, weather.RainFrom));
        Assert.Equal(8, weather.Tmin);
    }

    [Fact]
    public void A_day_of_which_nothing_is_known_is_left_out() =>
        Assert.Empty(Reading(FeedProvides.Both, Day(0) with { Tmax = null, Tmin = null, Rain = new FeedValue(1, 0.1, false) }).ToWeather());

    [Fact]
    public void Extremes_crossed_by_rounding_meet_in_the_middle()
    {
        var weather = Reading(FeedProvides.Both, Day(0) with { Tmax = Known(10.0), Tmin = Known(10.4) }).ToWeather().Single();
        Assert.Equal((10.2, 10.2), (weather.Tmax!.Value, weather.Tmin!.Value));
    }

    [Fact]
    public void Each_member_of_an_ensemble_is_a_series_of_its_own()
    {
        var reading = Samples.Read("open-meteo-ensemble", "open-meteo-ensemble.json", "Europe/London", "2026-05-04");
        Assert.Equal(["01", "02", "base"], reading.Members);
        Assert.Empty(reading.ToWeather());
        Assert.Equal([0.0, 7.5], reading.ToWeather("01").Select(day => day.Rain!.Value));
        Assert.Single(reading.ToWeather("02"));
        // Three members came, the preset asks for twenty before their spread means anything.
        Assert.False(reading.SpreadUsable);
    }

    [Fact]
    public void A_forecast_that_ends_before_today_is_refused()
    {
        var refusal = Assert.Throws<FeedException>(() => Samples.Read("open-meteo-daily", "open-meteo-daily.json", "Europe/London", "2026-06-01"));
        Assert.Equal((FeedCodes.TimeStale, false), (refusal.Code, refusal.Permanent));
    }

    [Fact]
    public void Days_beyond_the_horizon_of_a_forecast_and_after_today_in_a_history_are_left_out()
    {
        var reading = Samples.Read("open-meteo-hourly", "open-meteo-hourly.json", "Europe/London", "2026-10-24");
        var history = Samples.Read(Mapping.Feeds.Changed("open-meteo-hourly", json => json["provides"] = "history"), File.ReadAllBytes(Samples.PathOf("open-meteo-hourly.json")), today: "2026-10-24");
        Assert.Equal(new LocalDate(2026, 10, 27), reading.Days[^1].Date);
        Assert.Equal(new LocalDate(2026, 10, 24), history.Days[^1].Date);
        Assert.Equal([FeedCodes.TimeFutureDated], history.Notes.Select(note => note.Code));

        var near = Mapping.Feeds.Changed("open-meteo-hourly", json => json["expect"]!["horizonDays"]!["ahead"] = 0);
        var cut = Samples.Read(near, File.ReadAllBytes(Samples.PathOf("open-meteo-hourly.json")), today: "2026-10-24");
        Assert.Equal(new LocalDate(2026, 10, 26), cut.Days[^1].Date);
        Assert.Equal([FeedCodes.TimeTooFarAhead], cut.Notes.Select(note => note.Code));
    }

    private static FeedReading Reading(FeedProvides provides, params FeedDay[] days) =>
        new(days, [], Today, Instant.FromUtc(2026, 5, 5, 6, 0), provides);

    private static FeedDay Day(int offset) => new(Today.PlusDays(offset), null, Known(18), Known(8), null, Known(2), null);

    private static FeedValue Known(double value) => new(value, 1, true);
}
