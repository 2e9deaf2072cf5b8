using System.Globalization;
using System.Text.Json;
using FruitWatch.Model.Futures;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Weather;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Outlooks;

// A feed of many members, handed in as a file in the form that open-meteo's ensemble has: the plain column and one for each member.
public class EnsembleTests
{
    private const int Days = 8;

    private static readonly string s_description = $$"""
        {
          "schema": "weather-feed/1", "id": "hill-ensemble", "title": "Hill ensemble", "provides": "ensemble",
          "attribution": { "text": "Weather by the invented Hill Station", "url": "https://weather.example/" },
          "request": { "url": "file:{upload}", "mediaTypes": ["application/json"], "maxBytes": 1048576, "timeoutSeconds": 20 },
          "refresh": { "every": "PT6H", "conditional": "none", "honourExpires": false },
          "format": { "kind": "columns" },
          "time": { "at": "/daily/time", "kind": "localDate", "pattern": "uuuu-MM-dd", "zone": "site" },
          "series": {
            "tmax": { "at": "/daily/tmax", "unit": { "code": "Cel" }, "support": "day", "members": { "suffix": "_member{nn}", "first": 1, "last": 50, "includeBase": true } },
            "tmin": { "at": "/daily/tmin", "unit": { "code": "Cel" }, "support": "day", "members": { "suffix": "_member{nn}", "first": 1, "last": 50, "includeBase": true } },
            "rain": { "at": "/daily/rain", "unit": { "code": "mm" }, "support": "day", "members": { "suffix": "_member{nn}", "first": 1, "last": 50, "includeBase": true } }
          },
          "daily": {
            "tmax": { "from": ["tmax"], "reduce": "max", "assign": "midpoint" },
            "tmin": { "from": ["tmin"], "reduce": "min", "assign": "midpoint" },
            "rain": { "from": ["rain"], "reduce": "sum", "assign": "midpoint" }
          },
          "expect": { "horizonDays": { "back": 0, "ahead": {{Days}} }, "minMembers": 20 }
        }
        """;

    [Fact]
    public async Task The_members_of_a_feed_are_kept_and_every_bed_runs_through_them()
    {
        await using var service = await TestService.StartAsync();
        var site = await PulledAsync(service, members: 25);

        Assert.Equal(25, site.Ensemble.Count);
        Assert.Equal(FutureSource.Ensemble, site.Futures!.Source);
        // Every member of the feed as often as every other: the multiple of 25 that is nearest to 64.
        Assert.Equal(75, site.Futures.Members);
        Assert.Equal(InventedCooperative.Today.PlusDays(Days - 1), site.Futures.LastForecastDay);
        // Members by their labels, from 01; three copies each, so that 9 to 11 are member 04. What looks at one series sees the mean of all.
        Assert.Equal(20.4, site.Futures.Of(9, 0).Tmax, 9);
        Assert.Equal(20.4, site.Futures.Of(11, 0).Tmax, 9);
        Assert.Equal(21.2, site.On(InventedCooperative.Today)!.Tmax!.Value, 9);

        var outlook = BedOutlooks.Of(site, site.Beds.Single(b => b.Row.Id == service.Invented.Straw))!;
        Assert.Equal(75, outlook.Members);
    }

    [Fact]
    public async Task Too_few_members_say_nothing_of_the_spread_and_their_mean_is_dressed()
    {
        await using var service = await TestService.StartAsync();
        var site = await PulledAsync(service, members: 5);

        Assert.Empty(site.Ensemble);
        Assert.Equal(FutureSource.Dressed, site.Futures!.Source);
        Assert.Equal(64, site.Futures.Members);
        Assert.Equal(20.2, site.On(InventedCooperative.Today)!.Tmax!.Value, 9);
    }

    private static async Task<SiteBook> PulledAsync(TestService service, int members)
    {
        var options = service.Services.GetRequiredService<ServiceOptions>();
        await using var store = service.Store();
        await store.Forecasts.ExecuteDeleteAsync(TestContext.Current.CancellationToken);
        var feed = await store.Feeds.SingleAsync(TestContext.Current.CancellationToken);
        feed.Description = s_description;
        await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        var file = Path.Combine(options.FeedFolder(feed.CooperativeId), feed.Key + ".json");
        Directory.CreateDirectory(options.FeedFolder(feed.CooperativeId));
        await File.WriteAllTextAsync(file, Answer(members), TestContext.Current.CancellationToken);

        var pulled = await service.Services.GetRequiredService<WeatherPull>().PullAsync(store, service.Invented.AlderLane, TestContext.Current.CancellationToken);
        Assert.Equal("", pulled.Note);
        return (await service.Services.GetRequiredService<SiteBooks>().OpenAsync(store, [service.Invented.AlderLane], TestContext.Current.CancellationToken)).Single();
    }

    /// <summary>Member m is 20 °C and m tenths warm, every day.</summary>
    private static string Answer(int members)
    {
        var daily = new Dictionary<string, object> { ["time"] = Enumerable.Range(0, Days).Select(Day) };
        for (var member = 0; member < members; member++)
        {
            var suffix = member == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"_member{member:00}");
            daily["tmax" + suffix] = Enumerable.Repeat(20 + member / 10.0, Days);
            daily["tmin" + suffix] = Enumerable.Repeat(9 + member / 10.0, Days);
            daily["rain" + suffix] = Enumerable.Repeat(member % 4, Days);
        }

        return JsonSerializer.Serialize(new { daily });
    }

    private static string Day(int ahead) => InventedCooperative.Today.PlusDays(ahead).ToString("uuuu-MM-dd", CultureInfo.InvariantCulture);
}
