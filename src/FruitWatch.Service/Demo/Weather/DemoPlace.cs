namespace FruitWatch.Service.Demo.Weather;

/// <summary>How the weather of a place differs from that of its region's valley.</summary>
/// <param name="Number">Tells the chances of one place from those of another.</param>
/// <param name="Elevation">Above sea level. [m]</param>
/// <param name="Warmer">Added to the year's mean temperature. [°C]</param>
/// <param name="SeasonShare">Share of the valley's difference between summer and winter.</param>
/// <param name="RangeShare">Share of the valley's difference between day and night.</param>
/// <param name="RainShare">Share of the valley's rain.</param>
/// <param name="Damper">Added to the relative humidity. [%]</param>
internal sealed record DemoPlace(
    int Number, double Elevation, double Warmer, double SeasonShare, double RangeShare, double RainShare, double Damper)
{
    /// <summary>Cold nights, hot afternoons.</summary>
    public static readonly DemoPlace Valley = new(1, 60, 0, 1, 1, 1, 0);

    /// <summary>Cooler and wetter; the cold air of clear nights drains off.</summary>
    public static readonly DemoPlace Hillside = new(2, 310, -1.6, 0.95, 0.85, 1.25, 2);

    /// <summary>Mild and damp; frost comes late.</summary>
    public static readonly DemoPlace Coast = new(3, 15, 0.6, 0.7, 0.65, 1.1, 7);

    /// <summary>All of them.</summary>
    public static readonly IReadOnlyList<DemoPlace> All = [Valley, Hillside, Coast];
}
