using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Notices;

/// <summary>A bed, the weather it gets from its first day on, and what is logged; seen on the morning of any day.</summary>
internal sealed class BedStory
{
    private readonly List<WeatherDay> weather = [];
    private readonly List<LogEntry> log = [];
    private readonly double latitude;

    public BedStory(string species = "wine-cap", string material = "hardwood-chips", string inoculated = "2025-05-01", double latitude = 45)
    {
        this.latitude = latitude;
        var first = Day(inoculated);
        var catalogue = BedCatalogue.BuiltIn;
        Bed = new Bed(catalogue.Species[species], first, [new Layer(catalogue.Materials[material], 0.15, first)]) { Area = 4, Shade = 0.3 };
    }

    public Bed Bed { get; set; }

    public int ForecastDays { get; init; } = 14;

    public int ForecastAge { get; init; }

    public LocalDate DayAt(int day) => Bed.Inoculated.PlusDays(day);

    /// <summary>So many days more of the same weather.</summary>
    public BedStory Then(int days, double tmax, double tmin, double rain = 0)
    {
        for (var i = 0; i < days; i++)
            weather.Add(new WeatherDay(DayAt(weather.Count), tmax, tmin, rain));
        return this;
    }

    public BedStory Then(WeatherDay day)
    {
        weather.Add(day with { Date = DayAt(weather.Count) });
        return this;
    }

    public BedStory Logged(int day, Func<LocalDate, LogEntry> entry)
    {
        log.Add(entry(DayAt(day)));
        return this;
    }

    /// <summary>The bed on the morning of a day; days from it on are forecast, and nothing is logged yet after it.</summary>
    public BedMorning On(int day)
    {
        var today = DayAt(day);
        var days = weather.Take(day + ForecastDays).Select(d => d.Date < today ? d : d.From(Provenance.Forecast)).ToList();
        var known = log.Where(e => e.Date <= today).ToList();
        var forcing = SiteForcing.Of(days, new EvaporationLadder(latitude));
        var account = BedAccount.Run(Bed, known, forcing, BedCatalogue.BuiltIn, days[^1].Date);
        return new BedMorning(account, today, days, known) { ForecastAge = ForecastAge };
    }

    public static LocalDate Day(string iso) => NodaTime.Text.LocalDatePattern.Iso.Parse(iso).Value;
}
