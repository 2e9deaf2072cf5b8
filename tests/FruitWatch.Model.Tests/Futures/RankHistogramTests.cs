using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Futures;

/// <summary>
/// A truth that is itself drawn as a member takes every rank among the members equally often (Hamill 2001, Mon. Wea. Rev.
/// 129:550); ties, as of dry days, are broken at random. Nineteen members: twenty ranks.
/// </summary>
public class RankHistogramTests
{
    private const int Issues = 1500;
    private const int Days = 9;

    private static readonly List<WeatherDay> s_year = [.. Cities.NewYork.Where(day => day.Date.Year == 2013)];
    private static readonly SiteHistory s_otherYears = new(
        Cities.NewYork, new DateInterval(new LocalDate(2013, 1, 1), new LocalDate(2013, 12, 31)));

    private static readonly Lazy<List<(WeatherFutures Truth, WeatherFutures Members)>> s_fair =
        new(() => Issue(Outlook.Errors, s_otherYears));

    public static TheoryData<string, int> Quantities()
    {
        var cases = new TheoryData<string, int>();
        foreach (var lead in new[] { 0, 2, 5, 8 })
            foreach (var quantity in new[] { "tmax", "tmin", "rain" })
                cases.Add(quantity, lead);
        return cases;
    }

    [Theory]
    [MemberData(nameof(Quantities))]
    public void Ranks_of_a_truth_drawn_as_a_member_are_even(string quantity, int lead)
    {
        var counts = Ranks(quantity, lead, s_fair.Value);

        Assert.True(ChiSquare.Of(counts) < ChiSquare.OneInAThousand19, string.Join(' ', counts));
    }

    [Theory]
    [InlineData("tmax", 2)]
    [InlineData("tmin", 5)]
    public void Ranks_are_not_even_where_the_members_spread_half_as_far(string quantity, int lead)
    {
        var half = Outlook.Errors with { S0Tmax = 0.75, S0Tmin = 0.8, ScTmax = 2.25, ScTmin = 2 };

        Assert.True(ChiSquare.Of(Ranks(quantity, lead, Issue(Outlook.Errors, SiteHistory.None))) < ChiSquare.OneInAThousand19);
        Assert.True(ChiSquare.Of(Ranks(quantity, lead, Issue(half, SiteHistory.None))) > 2 * ChiSquare.OneInAThousand19);
    }

    [Fact]
    public void Ranks_of_the_rain_are_not_even_where_a_wet_forecast_is_taken_for_a_dry_one()
    {
        var counts = Ranks("rain", 2, Issue(Outlook.Errors, s_otherYears, day => day with { Rain = 0 }));

        Assert.True(ChiSquare.Of(counts) > 2 * ChiSquare.OneInAThousand19, string.Join(' ', counts));
    }

    private static int[] Ranks(string quantity, int lead, List<(WeatherFutures Truth, WeatherFutures Members)> issues)
    {
        var counts = new int[20];
        var ties = new Draws(5);
        foreach (var (truth, members) in issues)
        {
            var y = Value(truth, 0);
            var x = Enumerable.Range(0, 19).Select(member => Value(members, member)).ToList();
            counts[x.Count(v => v < y) + ties.Below(x.Count(v => v == y) + 1)]++;
        }

        return counts;

        double Value(WeatherFutures futures, int member)
        {
            var day = futures.Of(member, lead);
            return quantity switch { "tmax" => day.Tmax, "tmin" => day.Tmin, _ => day.Rain };
        }
    }

    /// <summary>Many issues: what came, drawn with the errors as they are, and members drawn apart from it.</summary>
    private static List<(WeatherFutures Truth, WeatherFutures Members)> Issue(
        ForecastErrorDefaults errors, SiteHistory history, Func<WeatherDay, WeatherDay>? misread = null) =>
    [
        .. Enumerable.Range(0, Issues).Select(issue =>
        {
            var forecast = s_year.Skip(issue % (s_year.Count - Days)).Take(Days).Select(day => day.From(Provenance.Forecast)).ToList();
            return (
                Make($"truth {issue}", forecast, Outlook.Errors, history, 1),
                Make($"site {issue}", [.. forecast.Select(day => misread?.Invoke(day) ?? day)], errors, history, 19));
        }),
    ];

    private static WeatherFutures Make(
        string site, List<WeatherDay> forecast, ForecastErrorDefaults errors, SiteHistory history, int members) =>
        WeatherFutures.Make(Outlook.Of(forecast, history, site) with
        {
            Today = forecast[0].Date,
            Errors = errors,
            Days = Days,
            Members = members,
        })!;
}
