using System.Globalization;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.Primitives;
using NodaTime.Text;

namespace FruitWatch.Service.Pages.Sites;

/// <summary>What stands in the form of a site.</summary>
internal static class SiteForm
{
    private static readonly LocalTimePattern s_time = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    public static readonly IReadOnlyDictionary<string, FormUnit> Units = new Dictionary<string, FormUnit>
    {
        ["latitudeDeg"] = new(1, "°"),
        ["longitudeDeg"] = new(1, "°"),
        ["elevationM"] = new(1, "m"),
    };

    public static FormFields Empty(Words words, string? zone) => new(
        words, new Dictionary<string, StringValues> { ["morningAt"] = "06:00", ["zoneId"] = zone ?? "", ["elevationM"] = "" }, Units);

    public static FormFields Of(Site row, Words words)
    {
        var values = new Dictionary<string, StringValues>
        {
            ["version"] = row.Version.ToString(CultureInfo.InvariantCulture),
            ["name"] = row.Name,
            ["latitudeDeg"] = FormFields.Shown(row.Latitude),
            ["longitudeDeg"] = FormFields.Shown(row.Longitude),
            ["elevationM"] = FormFields.Shown(row.Elevation),
            ["zoneId"] = row.ZoneId,
            ["morningAt"] = s_time.Format(row.MorningAt),
            ["forecastFeedId"] = Key(row.ForecastFeedId),
            ["stationFeedId"] = Key(row.StationFeedId),
            ["historyFeedId"] = Key(row.HistoryFeedId),
            ["station"] = row.Station ?? "",
        };
        if (row.Coastal)
            values["coastal"] = "true";
        return new FormFields(words, values, Units);
    }

    private static string Key(long? id) => id?.ToString(CultureInfo.InvariantCulture) ?? "";
}

/// <summary>A form of a site, as it is shown.</summary>
internal sealed record SiteFormShown(FormFields Form, IReadOnlyList<Feed> Feeds);
