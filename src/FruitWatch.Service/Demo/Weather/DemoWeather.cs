using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Service.Demo.Weather;

/// <summary>What the weather of the demo's places was and will be: the truth, of which the service is told only the past.</summary>
internal sealed class DemoWeather
{
    private readonly IReadOnlyDictionary<DemoPlace, IReadOnlyList<WeatherDay>> days;

    private DemoWeather(IReadOnlyDictionary<DemoPlace, IReadOnlyList<WeatherDay>> days) => this.days = days;

    /// <summary>First day.</summary>
    public LocalDate First => days[DemoPlace.Valley][0].Date;

    /// <summary>Last day.</summary>
    public LocalDate Last => days[DemoPlace.Valley][^1].Date;

    /// <summary>Invented weather of the years 2020 to 2030; the same seed gives the same days.</summary>
    public static DemoWeather Invented(long seed) =>
        new(InventedRegion.Days(seed, new LocalDate(2020, 1, 1), new LocalDate(2030, 12, 31)));

    /// <summary>Seattle 2012–2015.</summary>
    public static DemoWeather Seattle() => new(SeattleDays.Days());

    /// <summary>All days of a place.</summary>
    public IReadOnlyList<WeatherDay> Of(DemoPlace place) => days[place];

    /// <summary>A day of a place; must lie between <see cref="First"/> and <see cref="Last"/>.</summary>
    public WeatherDay On(DemoPlace place, LocalDate date) => days[place][Period.DaysBetween(First, date)];

    /// <summary>The days of a place from the first one through a day.</summary>
    public IEnumerable<WeatherDay> Through(DemoPlace place, LocalDate last) => days[place].TakeWhile(day => day.Date <= last);
}
