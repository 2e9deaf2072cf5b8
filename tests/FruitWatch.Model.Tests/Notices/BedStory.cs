using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Outlooks;
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
    public BedMorning On(int day) => On(day, null);

    /// <summary>The same with an outlook.</summary>
    public BedMorning On(int day, BedOutlook? outlook)
    {
        var today = DayAt(day);
        var days = weather.Take(day + ForecastDays).Select(d => d.Date < today ? d : d.From(Provenance.Forecast)).ToList();
        var account = Account(day, days, days[^1].Date);
        return new BedMorning(account, today, days, Known(today)) { ForecastAge = ForecastAge, Outlook = outlook };
    }

    /// <summary>The bed on the morning of a day with its outlook: each future has the story's weather, varied.</summary>
    public BedMorning InFutures(int day, int members, Func<int, WeatherDay, WeatherDay> vary, int outlookDays = 20)
    {
        var today = DayAt(day);
        var ladder = new EvaporationLadder(latitude);
        var forcing = new SiteForcing(today, outlookDays, members, latitude);
        for (var ahead = 0; ahead < outlookDays; ahead++)
        {
            for (var member = 0; member < members; member++)
                forcing.Set(ahead, member, vary(member, weather[day + ahead]), ladder);
        }

        var yesterday = Account(day, weather.Take(day).ToList(), today.PlusDays(-1)).End;
        var morning = On(day);
        var question = new OutlookQuestion(
            WaterRule.ByTheCan(WaterRule.Refill(morning)) / Bed.Area, morning.Cover == Cover.None ? Cover.Sheet : Cover.None);
        return On(day, new OutlookRun(forcing).Of(Bed, Known(today), yesterday, [], BedCatalogue.BuiltIn, question));
    }

    private List<LogEntry> Known(LocalDate today) => [.. log.Where(e => e.Date <= today)];

    private BedAccount Account(int day, IReadOnlyList<WeatherDay> days, LocalDate until) => BedAccount.Run(
        Bed, Known(until < DayAt(day) ? until : DayAt(day)), SiteForcing.Of(days, new EvaporationLadder(latitude)), BedCatalogue.BuiltIn, until);

    public static LocalDate Day(string iso) => NodaTime.Text.LocalDatePattern.Iso.Parse(iso).Value;
}
