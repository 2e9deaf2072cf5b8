using System.Net;
using NodaTime;
using NodaTime.Extensions;
using NodaTime.Testing;
using WireMock;
using WireMock.RequestBuilders;
using WireMock.ResponseBuilders;
using WireMock.Server;

namespace FruitWatch.Service.Tests.Seattle;

/// <summary>A weather service on loopback that answers with the weather of the clock's day, or not at all.</summary>
internal sealed class SeattleFeed : IDisposable
{
    private static readonly DateTimeZone s_zone = DateTimeZoneProviders.Tzdb["America/Los_Angeles"];
    private readonly WireMockServer server = WireMockServer.Start();

    public string Endpoint => new Uri(server.Url!).Authority;

    public SeattleFeed(FakeClock clock)
    {
        server.Given(Request.Create().WithPath("/daily").UsingGet())
            .RespondWith(Response.Create().WithCallback(_ => Down ? Refusal() : Answer(clock.InZone(s_zone).GetCurrentDate())));
    }

    /// <summary>Whether the service is out of order.</summary>
    public bool Down { get; set; }

    /// <summary>Description of this feed: temperature and rain by day, a week back and a week ahead.</summary>
    public string Description => $$"""
        {
          "schema": "weather-feed/1", "id": "seattle", "title": "Seattle, replayed", "provides": "both",
          "attribution": { "text": "NOAA daily observations" },
          "request": { "url": "{{server.Url}}/daily", "mediaTypes": ["application/json"], "maxBytes": 65536, "timeoutSeconds": 20 },
          "refresh": { "every": "PT1H", "conditional": "none", "honourExpires": false },
          "format": { "kind": "columns" },
          "time": { "at": "/daily/time", "kind": "localDate", "pattern": "uuuu-MM-dd", "zone": "site" },
          "series": {
            "tmax": { "at": "/daily/temperature_2m_max", "unit": { "code": "Cel", "declaredAt": "/daily_units/temperature_2m_max" }, "support": "day" },
            "tmin": { "at": "/daily/temperature_2m_min", "unit": { "code": "Cel", "declaredAt": "/daily_units/temperature_2m_min" }, "support": "day" },
            "rain": { "at": "/daily/precipitation_sum", "unit": { "code": "mm", "declaredAt": "/daily_units/precipitation_sum" }, "support": "day" }
          },
          "daily": {
            "tmax": { "from": ["tmax"], "reduce": "max", "assign": "midpoint" },
            "tmin": { "from": ["tmin"], "reduce": "min", "assign": "midpoint" },
            "rain": { "from": ["rain"], "reduce": "sum", "assign": "midpoint" }
          },
          "expect": { "horizonDays": { "back": 7, "ahead": 8 } }
        }
        """;

    public void Dispose() => server.Dispose();

    private static ResponseMessage Refusal() => new() { StatusCode = (int)HttpStatusCode.ServiceUnavailable };

    private static ResponseMessage Answer(LocalDate today) => new()
    {
        StatusCode = (int)HttpStatusCode.OK,
        Headers = new Dictionary<string, WireMock.Types.WireMockList<string>> { ["Content-Type"] = new("application/json") },
        BodyData = new WireMock.Util.BodyData
        {
            DetectedBodyType = WireMock.Types.BodyType.String,
            BodyAsString = SeattleWeather.Answer(today),
        },
    };
}
