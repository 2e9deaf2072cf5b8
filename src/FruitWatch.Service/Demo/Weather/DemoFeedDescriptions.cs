using System.Text.Json.Nodes;

namespace FruitWatch.Service.Demo.Weather;

/// <summary>How the demo's weather files are read: <c>weather-feed/1</c> descriptions, as a user would write them.</summary>
internal static class DemoFeedDescriptions
{
    private const string Station = """
        {
          "schema": "weather-feed/1",
          "provides": "history",
          "request": { "url": "file:{upload}", "mediaTypes": ["text/csv"], "maxBytes": 8388608 },
          "refresh": { "every": "P1D", "conditional": "none", "honourExpires": false },
          "format": { "kind": "csv", "delimiter": ",", "header": true, "decimal": ".", "encoding": "utf-8" },
          "time": { "column": "date", "kind": "localDate", "pattern": "uuuu-MM-dd", "zone": "site", "dayEnds": "24:00" },
          "series": {
            "tmax": { "column": "tmax_c", "unit": { "code": "Cel" }, "support": "day" },
            "tmin": { "column": "tmin_c", "unit": { "code": "Cel" }, "support": "day" },
            "rain": { "column": "rain_mm", "unit": { "code": "mm" }, "support": "day" },
            "humidity": { "column": "humidity_percent", "unit": { "code": "%" }, "support": "day", "optional": true }
          },
          "daily": {
            "tmax": { "from": ["tmax"], "reduce": "max", "assign": "midpoint" },
            "tmin": { "from": ["tmin"], "reduce": "min", "assign": "midpoint" },
            "rain": { "from": ["rain"], "reduce": "sum", "assign": "midpoint" },
            "humidity": { "from": ["humidity"], "reduce": "mean", "assign": "midpoint" }
          },
          "expect": { "horizonDays": { "back": 4000, "ahead": 0 } }
        }
        """;

    private const string Outlook = """
        {
          "schema": "weather-feed/1",
          "provides": "forecast",
          "request": { "url": "file:{upload}", "mediaTypes": ["application/json"], "maxBytes": 524288 },
          "refresh": { "every": "P1D", "conditional": "none", "honourExpires": false },
          "format": { "kind": "columns" },
          "time": { "at": "/daily/date", "kind": "localDate", "pattern": "uuuu-MM-dd", "zone": "site" },
          "series": {
            "tmax": { "at": "/daily/tmax", "unit": { "code": "Cel", "declaredAt": "/units/tmax" }, "support": "day" },
            "tmin": { "at": "/daily/tmin", "unit": { "code": "Cel", "declaredAt": "/units/tmin" }, "support": "day" },
            "rain": { "at": "/daily/rain", "unit": { "code": "mm", "declaredAt": "/units/rain" }, "support": "day" },
            "humidity": { "at": "/daily/humidity", "unit": { "code": "%", "declaredAt": "/units/humidity" }, "support": "day", "optional": true }
          },
          "daily": {
            "tmax": { "from": ["tmax"], "reduce": "max", "assign": "midpoint" },
            "tmin": { "from": ["tmin"], "reduce": "min", "assign": "midpoint" },
            "rain": { "from": ["rain"], "reduce": "sum", "assign": "midpoint" },
            "humidity": { "from": ["humidity"], "reduce": "mean", "assign": "midpoint" }
          },
          "expect": { "present": ["/daily/date"], "horizonDays": { "back": 0, "ahead": 9 } }
        }
        """;

    /// <summary>Description of a station's file.</summary>
    public static string OfStation(string key, string title, string attribution) => With(Station, key, title, attribution);

    /// <summary>Description of a forecast's file.</summary>
    public static string OfForecast(string key, string title, string attribution) => With(Outlook, key, title, attribution);

    private static string With(string form, string key, string title, string attribution)
    {
        var description = JsonNode.Parse(form)!.AsObject();
        description["id"] = key;
        description["title"] = title;
        description["attribution"] = new JsonObject { ["text"] = attribution };
        return description.ToJsonString();
    }
}
