using FruitWatch.Model.Futures;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Tests.Futures;
using FruitWatch.Model.Verification;
using FruitWatch.Model.Verification.Backtest;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Verification.Backtest;

/// <summary>
/// A forecast made from what came must leave it as open as the members that are dressed on it say: then what came takes every
/// rank among them equally often (Hamill 2001, Mon. Wea. Rev. 129:550).
/// </summary>
public class MadeForecastTests
{
    private const int Issues = 1000;
    private const int Members = 19;

    private static readonly LocalDate s_first = new(2013, 1, 1);
    private static readonly SiteHistory s_history = new(Cities.NewYork, new DateInterval(s_first, s_first.PlusDays(364)));

    private static readonly Lazy<List<(List<WeatherDay> Truth, WeatherFutures Members)>> s_fair =
        new(() => Drawn((truth, draws) => MadeForecast.Of(truth, s_history, Outlook.Errors, draws)));

    private static readonly Lazy<List<(List<WeatherDay> Truth, WeatherFutures Members)>> s_came =
        new(() => [.. Enumerable.Range(2012, 4).SelectMany(Came)]);

    [Theory]
    [InlineData("tmax", 0)]
    [InlineData("tmax", 3)]
    [InlineData("tmax", 8)]
    [InlineData("tmin", 0)]
    [InlineData("tmin", 3)]
    [InlineData("tmin", 8)]
    [InlineData("wet", 0)]
    [InlineData("wet", 3)]
    [InlineData("wet", 8)]
    public void What_came_takes_every_rank_among_the_members_dressed_on_the_forecast(string quantity, int lead)
    {
        var counts = Ranks(s_fair.Value, quantity, lead);

        Assert.True(ChiSquare.Of(counts) < ChiSquare.OneInAThousand19, string.Join(' ', counts));
    }

    [Theory]
    [InlineData("tmax", 0)]
    [InlineData("tmin", 3)]
    [InlineData("wet", 0)]
    public void Ranks_are_not_even_where_the_forecast_is_what_came(string quantity, int lead)
    {
        var known = Drawn((truth, _) => [.. truth.Select(day => day.From(Provenance.Forecast))]);

        var counts = Ranks(known, quantity, lead);

        Assert.True(ChiSquare.Of(counts) > ChiSquare.OneInAThousand19, string.Join(' ', counts));
    }

    /// <summary>Years that came, not years that were drawn: their departures are no normal ones, and their mornings no independent ones.</summary>
    [Theory]
    [InlineData("tmax", 1)]
    [InlineData("tmax", 6)]
    [InlineData("tmin", 1)]
    [InlineData("tmin", 6)]
    public void In_the_years_that_came_no_quarter_of_the_ranks_is_much_fuller_than_another(string quantity, int lead)
    {
        var counts = Ranks(s_came.Value, quantity, lead);

        var quarters = counts.Chunk(5).Select(quarter => quarter.Sum() / (double)s_came.Value.Count).ToList();

        Assert.All(quarters, share => Assert.InRange(share, 0.2, 0.3));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    public void Rain_follows_a_wet_word_as_often_as_was_published(int lead)
    {
        var error = new ForecastError(Outlook.Errors);
        const double baseRate = 0.3;
        var wetWordWet = MadeForecast.WetWord(cameWet: true, error, lead, baseRate);
        var wetWordDry = MadeForecast.WetWord(cameWet: false, error, lead, baseRate);
        var words = baseRate * wetWordWet + (1 - baseRate) * wetWordDry;

        // Bayes the other way round.
        Assert.Equal(error.WetChance(true, lead, baseRate), baseRate * wetWordWet / words, 1e-12);
        Assert.Equal(error.WetChance(false, lead, baseRate), baseRate * (1 - wetWordWet) / (1 - words), 1e-12);
    }

    [Theory]
    [InlineData(0.70, 1)] // wetter than after a wet word, 0.54 at day 1
    [InlineData(0.04, 0)] // drier than after a dry word, 0.066
    public void Where_the_published_chances_leave_one_word_it_is_always_said(double baseRate, double chance)
    {
        var error = new ForecastError(Outlook.Errors);

        Assert.Equal(chance, MadeForecast.WetWord(cameWet: true, error, 1, baseRate));
        Assert.Equal(chance, MadeForecast.WetWord(cameWet: false, error, 1, baseRate));
    }

    private static int[] Ranks(List<(List<WeatherDay> Truth, WeatherFutures Members)> issues, string quantity, int lead)
    {
        var ranks = new RankHistogram(Members, 3);
        foreach (var (truth, members) in issues)
            ranks.Add([.. Enumerable.Range(0, Members).Select(member => Of(members.Of(member, lead)))], Came(truth[lead]));
        return [.. ranks.Counts];

        double Of(FutureDay day) => quantity switch { "tmax" => day.Tmax, "tmin" => day.Tmin, _ => day.Rain >= ForecastError.WetFrom ? 1 : 0 };
        double Came(WeatherDay day) => Of(new FutureDay(day.Date, day.Tmax!.Value, day.Tmin!.Value, day.Rain!.Value));
    }

    /// <summary>A forecast for every third morning of a year that came, by who knows the other years.</summary>
    private static IEnumerable<(List<WeatherDay> Truth, WeatherFutures Members)> Came(int year)
    {
        var days = Cities.NewYork.Where(day => day.Date.Year == year).ToList();
        var history = new SiteHistory(Cities.NewYork, new DateInterval(days[0].Date, days[^1].Date));
        for (var i = 0; i + MadeForecast.Days <= days.Count; i += 3)
        {
            var truth = days.Skip(i).Take(MadeForecast.Days).ToList();
            var forecast = MadeForecast.Of(truth, history, Outlook.Errors, new Draws(9).Stream(year, i));
            yield return (truth, Dressed(forecast, history, i));
        }
    }

    /// <summary>Weather drawn as the error model has it: normal departures from the usual day, rain as often as is usual.</summary>
    private static List<(List<WeatherDay> Truth, WeatherFutures Members)> Drawn(Func<List<WeatherDay>, Draws, List<WeatherDay>> forecast) =>
    [
        .. Enumerable.Range(0, Issues).Select(issue =>
        {
            var draws = new Draws(7).Stream(1, issue);
            var truth = Enumerable.Range(0, MadeForecast.Days).Select(lead => Drawn(s_first.PlusDays(issue % 350 + lead), draws)).ToList();
            return (truth, Dressed(forecast(truth, new Draws(8).Stream(1, issue)), s_history, issue));
        }),
    ];

    private static WeatherDay Drawn(LocalDate date, Draws draws)
    {
        var error = new ForecastError(Outlook.Errors, s_history.AnomalySdTmax(date.Month), s_history.AnomalySdTmin(date.Month));
        var one = draws.Normal();
        var tmax = s_history.UsualTmax(date)!.Value + error.SdTmax(double.PositiveInfinity) * one;
        var tmin = s_history.UsualTmin(date)!.Value + error.SdTmin(double.PositiveInfinity) * (0.8 * one + 0.6 * draws.Normal());
        var amounts = s_history.WetDayAmounts(date.Month);
        var rain = draws.Uniform() < s_history.WetShare(date.Month) ? amounts[draws.Below(amounts.Count)] : 0;
        return new WeatherDay(date, Math.Max(tmax, tmin), Math.Min(tmax, tmin), rain);
    }

    private static WeatherFutures Dressed(List<WeatherDay> forecast, SiteHistory history, int issue) => WeatherFutures.Make(
        Outlook.Of(forecast, history, FormattableString.Invariant($"site {issue}")) with
        {
            Today = forecast[0].Date,
            Days = forecast.Count,
            Members = Members,
        })!;
}
