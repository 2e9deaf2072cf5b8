using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Tests.Pages;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Outlooks;

public sealed class SiteFuturesTests(OneService running) : IClassFixture<OneService>
{
    [Fact]
    public async Task A_forecast_of_the_day_before_is_a_day_less_sure()
    {
        // Mill Field's forecast is 40 hours old.
        await using var store = running.Service.Store();
        var site = (await running.Service.Services.GetRequiredService<SiteBooks>()
            .OpenAsync(store, [running.Service.Invented.MillField], TestContext.Current.CancellationToken)).Single();

        Assert.Equal(Days(Made(site, age: 1)), Days(site.Futures!));
        Assert.NotEqual(Days(Made(site, age: 0)), Days(site.Futures!));
    }

    private static WeatherFutures Made(SiteBook site, int age) => WeatherFutures.Make(new OutlookInputs
    {
        SiteKey = site.Row.Id.ToString(System.Globalization.CultureInfo.InvariantCulture),
        Today = site.Today,
        Forecast = [.. site.Known.Where(day => day.Date >= site.Today.PlusDays(-1))],
        ForecastAge = age,
        History = site.History,
        Errors = BedCatalogue.BuiltIn.ForecastError,
        Ladder = site.Ladder,
    })!;

    private static List<FutureDay> Days(WeatherFutures futures) => [.. Enumerable.Range(0, 5).Select(day => futures.Of(3, day))];
}
