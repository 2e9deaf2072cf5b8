using System.Text;
using System.Text.Json.Nodes;

namespace FruitWatch.Feeds.Tests.Mapping;

/// <summary>Small feeds for single rules: a preset with changes, and a body written in the test.</summary>
internal static class Feeds
{
    /// <summary>A station that writes a row now and then: local time, temperature, rain since the row before.</summary>
    public static FeedDescription Station(string zone = "site", Action<JsonNode>? change = null)
    {
        var json = JsonNode.Parse("""
            {
              "schema": "weather-feed/1", "id": "alder-lane", "title": "Alder Lane", "provides": "history",
              "attribution": { "text": "Own station" },
              "request": { "url": "file:{upload}", "mediaTypes": ["text/csv"], "maxBytes": 100000 },
              "refresh": { "every": "P1D", "conditional": "none", "honourExpires": false },
              "format": { "kind": "csv", "delimiter": ",", "header": true },
              "time": { "column": "time", "kind": "localDateTime", "pattern": "uuuu-MM-dd HH:mm", "zone": "site" },
              "series": {
                "temp": { "column": "temp", "unit": { "code": "Cel" }, "support": "instant" },
                "rain": { "column": "rain", "unit": { "code": "mm" }, "support": "preceding", "period": "PT1H" }
              },
              "daily": {
                "tmax": { "from": ["temp"], "reduce": "max" },
                "tmin": { "from": ["temp"], "reduce": "min" },
                "tmean": { "from": ["temp"], "reduce": "mean" },
                "rain": { "from": ["rain"], "reduce": "sum" }
              },
              "expect": { "horizonDays": { "back": 400, "ahead": 0 } }
            }
            """)!;
        json["time"]!["zone"] = zone;
        change?.Invoke(json);
        return FeedDescription.Parse(json.ToJsonString());
    }

    public static FeedDescription Changed(string preset, Action<JsonNode> change)
    {
        var json = JsonNode.Parse(FeedPresets.Find(preset)!.Json)!;
        change(json);
        return FeedDescription.Parse(json.ToJsonString());
    }

    public static byte[] Rows(params string[] rows) => Encoding.UTF8.GetBytes("time,temp,rain\n" + string.Join('\n', rows));
}
