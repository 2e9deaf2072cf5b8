using FruitWatch.Service.Demo.Weather;

namespace FruitWatch.Service.Demo.Cooperative;

/// <summary>A site of the demo. Names and places are invented.</summary>
/// <param name="Key">Begins the names of its feeds.</param>
/// <param name="Name">What its growers call it.</param>
/// <param name="Place">Its weather.</param>
/// <param name="Latitude">[°]</param>
/// <param name="Longitude">[°]</param>
/// <param name="Coastal">Near a large body of water.</param>
internal sealed record DemoSite(string Key, string Name, DemoPlace Place, double Latitude, double Longitude, bool Coastal)
{
    /// <summary>The zone of all sites: the one of its longitude.</summary>
    public const string ZoneId = "America/Los_Angeles";

    public static readonly IReadOnlyList<DemoSite> All =
    [
        new("fennhollow", "Fennhollow", DemoPlace.Valley, 43.6, -123.2, Coastal: false),
        new("highstile", "Highstile", DemoPlace.Hillside, 43.7, -122.9, Coastal: false),
        new("saltmerrow", "Saltmerrow", DemoPlace.Coast, 43.5, -124.1, Coastal: true),
    ];

    /// <summary>Key of the feed of past days.</summary>
    public string HistoryKey => $"{Key}-station";

    /// <summary>Key of the feed of days to come.</summary>
    public string ForecastKey => $"{Key}-outlook";
}
