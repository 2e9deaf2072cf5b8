using System.Globalization;
using System.Text.Json.Nodes;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Tests.Weather;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;
using NodaTime.Text;

namespace FruitWatch.Service.Tests.Feeds;

/// <summary>The service with a weather service on loopback that it may ask, and clocks that the test sets.</summary>
public sealed class FeedWorkshop : IAsyncLifetime
{
    internal TestService Service { get; private set; } = null!;

    internal FeedServer Server { get; private set; } = null!;

    internal FakeClock Clock { get; } = new(InventedCooperative.Now);

    /// <summary>Runs the pace at which feeds are asked for a look.</summary>
    internal SetTime Time { get; } = new();

    public async ValueTask InitializeAsync()
    {
        Server = await FeedServer.StartAsync();
        Service = await TestService.StartAsync(
            services => services.AddSingleton<IClock>(Clock).AddSingleton(new FruitWatch.Service.Feeds.TrialPace(Time)), stations: Server.Endpoints);
        Server.Answer(0, () => Days().ToJsonString());
    }

    public async ValueTask DisposeAsync()
    {
        if (Service is not null)
            await Service.DisposeAsync();
        if (Server is not null)
            await Server.DisposeAsync();
    }

    /// <summary>A description of the service on loopback.</summary>
    internal JsonObject Description(string address = "/days?lat={latitude}&ahead={ahead}") => new()
    {
        ["schema"] = "weather-feed/1",
        ["id"] = "brook-weather",
        ["title"] = "Brook weather",
        ["provides"] = "forecast",
        ["attribution"] = new JsonObject { ["text"] = "Weather by the Brook", ["licence"] = "CC BY 4.0" },
        ["request"] = new JsonObject
        {
            ["url"] = string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{Server.Ports[0]}{address}"),
            ["dates"] = new JsonObject { ["back"] = 0, ["ahead"] = 7 },
            ["mediaTypes"] = new JsonArray("application/json"),
            ["maxBytes"] = 65536,
        },
        ["refresh"] = new JsonObject { ["every"] = "PT1H", ["conditional"] = "none", ["honourExpires"] = false },
        ["format"] = new JsonObject { ["kind"] = "columns" },
        ["time"] = new JsonObject { ["at"] = "/daily/time", ["kind"] = "localDate", ["pattern"] = "uuuu-MM-dd", ["zone"] = "site" },
        ["series"] = new JsonObject
        {
            ["high"] = new JsonObject { ["at"] = "/daily/high", ["unit"] = new JsonObject { ["code"] = "Cel" }, ["support"] = "day" },
            ["low"] = new JsonObject { ["at"] = "/daily/low", ["unit"] = new JsonObject { ["code"] = "Cel" }, ["support"] = "day" },
            ["rain"] = new JsonObject { ["at"] = "/daily/rain", ["unit"] = new JsonObject { ["code"] = "mm" }, ["support"] = "day" },
        },
        ["daily"] = new JsonObject
        {
            ["tmax"] = new JsonObject { ["from"] = new JsonArray("high"), ["reduce"] = "max" },
            ["tmin"] = new JsonObject { ["from"] = new JsonArray("low"), ["reduce"] = "min" },
            ["rain"] = new JsonObject { ["from"] = new JsonArray("rain"), ["reduce"] = "sum" },
        },
        ["expect"] = new JsonObject { ["horizonDays"] = new JsonObject { ["back"] = 0, ["ahead"] = 7 } },
    };

    /// <summary>The same with a key in its address.</summary>
    internal JsonObject Keyed(string address = "/keyed?key={key}")
    {
        var keyed = Description(address);
        keyed["request"]!["secret"] = new JsonObject { ["placeholder"] = "key", ["in"] = "query" };
        return keyed;
    }

    /// <summary>An answer of six days, mild and with a shower.</summary>
    internal static JsonObject Days(Func<double, double>? unit = null)
    {
        double[] high = [16.5, 17.0, 15.5, 14.5, 16.0, 17.5];
        return new JsonObject
        {
            ["daily"] = new JsonObject
            {
                ["time"] = new JsonArray([.. high.Select((_, i) => (JsonNode)LocalDatePattern.Iso.Format(InventedCooperative.Today.PlusDays(i)))]),
                ["high"] = new JsonArray([.. high.Select(t => (JsonNode)Math.Round((unit ?? (c => c))(t), 1))]),
                ["low"] = new JsonArray([.. high.Select(t => (JsonNode)Math.Round((unit ?? (c => c))(t - 9), 1))]),
                ["rain"] = new JsonArray(0.0, 2.4, null, 0.2, 0.0, 1.1),
            },
        };
    }

    /// <summary>Tries a description for Alder Lane over the API.</summary>
    internal Task<ApiAnswer> TryAsync(ApiClient api, JsonObject description, string? key = null)
    {
        Time.Advance(TimeSpan.FromMinutes(2));
        var body = new JsonObject { ["siteId"] = Service.Invented.AlderLane, ["description"] = description.DeepClone() };
        if (key is not null)
            body["key"] = key;
        return api.SendAsync("POST", "/api/v1/feed-trials", body.ToJsonString());
    }

    internal sealed class SetTime : TimeProvider
    {
        private DateTimeOffset now = InventedCooperative.Now.ToDateTimeOffset();

        public override DateTimeOffset GetUtcNow() => now;

        public void Advance(TimeSpan by) => now += by;
    }
}
