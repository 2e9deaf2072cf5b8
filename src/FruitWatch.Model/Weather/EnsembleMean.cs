namespace FruitWatch.Model.Weather;

/// <summary>One series out of the members of an ensemble, for what looks at a single one.</summary>
public static class EnsembleMean
{
    /// <summary>Day by day the mean of what the members know; a day on which none knows a value has none.</summary>
    public static IReadOnlyList<WeatherDay> Of(IEnumerable<IReadOnlyList<WeatherDay>> members)
    {
        ArgumentNullException.ThrowIfNull(members);
        return
        [
            .. members.SelectMany(m => m).GroupBy(d => d.Date).OrderBy(g => g.Key).Select(day =>
                new WeatherDay(day.Key, day.Average(d => d.Tmax), day.Average(d => d.Tmin), day.Average(d => d.Rain))
                {
                    Humidity = day.Average(d => d.Humidity),
                    DewPoint = day.Average(d => d.DewPoint),
                    Wind = day.Average(d => d.Wind),
                    Radiation = day.Average(d => d.Radiation),
                    FeedEvapotranspiration = day.Average(d => d.FeedEvapotranspiration),
                }),
        ];
    }
}
