using System.ComponentModel;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>What is usual at a site, month by month.</summary>
[Description("What is usual at a site, month by month, from the days that were observed; forecasts and filled gaps do not count.")]
internal sealed record SiteClimate(
    [property: Description("Key of the site.")] long SiteId,
    [property: Description("Twelve months, January first.")] IReadOnlyList<MonthClimate> Months,
    [property: Description("What the days rest on, the most days first.")] IReadOnlyList<ClimateSource> Sources)
{
    /// <summary>From here on a day counts as wet (World Meteorological Organization, Guide to Climatological Practices). [mm]</summary>
    private const double WetDay = 1;

    /// <summary>A month with fewer known days is no year of it.</summary>
    private const int FewestDays = 20;

    public static SiteClimate Of(long siteId, MergedWeather past) => new(
        siteId,
        [.. Enumerable.Range(1, 12).Select(month => MonthOf(month, [.. past.Days.Where(day => day.Date.Month == month)]))],
        [
            .. past.Days.Zip(past.Sources)
                .SelectMany(day => new[]
                {
                    (Of: IsObserved(day.First.TmaxFrom) ? day.Second.Temperature : null, IsRain: false),
                    (Of: IsObserved(day.First.RainFrom) ? day.Second.Rain : null, IsRain: true),
                })
                .Where(one => one.Of is not null)
                .GroupBy(one => one.Of!)
                .Select(group => new ClimateSource(
                    group.Key.Kind, group.Key.FeedId, group.Key.Title, group.Count(one => !one.IsRain), group.Count(one => one.IsRain)))
                .OrderByDescending(source => source.TemperatureDays + source.RainDays).ThenBy(source => source.Kind).ThenBy(source => source.FeedId),
        ]);

    private static MonthClimate MonthOf(int month, List<WeatherDay> days)
    {
        var tmax = days.Where(day => IsObserved(day.TmaxFrom)).Select(day => (day.Date, Value: day.Tmax!.Value)).ToList();
        var tmin = days.Where(day => IsObserved(day.TminFrom)).Select(day => (day.Date, Value: day.Tmin!.Value)).ToList();
        var rain = days.Where(day => IsObserved(day.RainFrom)).Select(day => (day.Date, Value: day.Rain!.Value)).ToList();
        var length = month == 2 ? 28.25 : CalendarSystem.Iso.GetDaysInMonth(2001, month);
        return new MonthClimate(
            month,
            Mean(tmax.Select(day => day.Value)),
            Mean(tmin.Select(day => day.Value)),
            Mean(rain.Select(day => day.Value)) * length,
            Mean(rain.Select(day => day.Value >= WetDay ? 1.0 : 0)) * length,
            Years(tmax.Select(day => day.Date)),
            Years(rain.Select(day => day.Date)));
    }

    private static double? Mean(IEnumerable<double> values) => values.Select(value => (double?)value).Average();

    private static int Years(IEnumerable<LocalDate> days) => days.GroupBy(day => day.Year).Count(year => year.Count() >= FewestDays);

    private static bool IsObserved(Provenance from) => from is Provenance.Observed or Provenance.Gauge;
}

/// <summary>A month of the year.</summary>
[Description("What is usual in a month. A value is null where no such day was observed.")]
internal sealed record MonthClimate(
    [property: Description("1 to 12.")] int Month,
    [property: Description("Mean of the days' highest temperatures, in °C.")] double? TmaxC,
    [property: Description("Mean of the days' lowest temperatures, in °C.")] double? TminC,
    [property: Description("Rain of the whole month, in mm.")] double? RainMm,
    [property: Description("Days with 1 mm of rain or more in the month.")] double? WetDays,
    [property: Description("Years with temperatures of at least 20 days of the month.")] int TemperatureYears,
    [property: Description("Years with rain of at least 20 days of the month.")] int RainYears);

/// <summary>What a climate rests on.</summary>
[Description("A source of observed days.")]
internal sealed record ClimateSource(
    [property: Description("Which kind of source; forecast-past is what a forecast feed says of days gone by.")] SourceKind Kind,
    [property: Description("The feed; null for the own gauge.")] long? FeedId,
    [property: Description("What the feed is called; empty for the own gauge.")] string Title,
    [property: Description("Days with temperatures of it.")] int TemperatureDays,
    [property: Description("Days with rain of it.")] int RainDays);
