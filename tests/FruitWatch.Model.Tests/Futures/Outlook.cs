using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Futures;

/// <summary>Outlooks made up for tests.</summary>
internal static class Outlook
{
    public static readonly LocalDate Today = new(2016, 4, 10);

    public static ForecastErrorDefaults Errors { get; } = new(1.5, 1.6, 4.5, 4.0, 7.5, 8);

    /// <summary>Four years of New York, 2012–2015.</summary>
    public static SiteHistory NewYork { get; } = new(Cities.NewYork);

    public static OutlookInputs Of(IReadOnlyList<WeatherDay> forecast, SiteHistory? history = null, string site = "alder-lane") => new()
    {
        SiteKey = site,
        Today = Today,
        Forecast = forecast,
        History = history ?? NewYork,
        Errors = Errors,
        Ladder = new EvaporationLadder(40.7),
    };

    public static OutlookInputs OfEnsemble(IEnumerable<IReadOnlyList<WeatherDay>> members, SiteHistory? history = null) =>
        Of([], history) with { Ensemble = [.. members] };

    /// <summary>The same weather day after day.</summary>
    public static List<WeatherDay> Steady(int days, double tmax, double tmin, double? rain = 0, LocalDate? from = null) =>
        [.. Enumerable.Range(0, days).Select(i =>
            new WeatherDay((from ?? Today).PlusDays(i), tmax, tmin, rain).From(Provenance.Forecast))];

    public static List<FutureDay> Days(this WeatherFutures futures, int member) =>
        [.. Enumerable.Range(0, futures.Forcing.Days).Select(day => futures.Of(member, day))];

    public static List<FutureDay> All(this WeatherFutures futures) =>
        [.. Enumerable.Range(0, futures.Members).SelectMany(futures.Days)];

    public static FutureNote? Note(this WeatherFutures futures, FutureNoteCode code) =>
        futures.Notes.SingleOrDefault(note => note.Code == code);
}
