using NodaTime;

namespace FruitWatch.Store.Entities;

/// <summary>A place with one weather: all beds of a site share feed, zone and morning.</summary>
public sealed class Site : IEdited, INamed
{
    /// <summary>Key.</summary>
    public long Id { get; set; }

    /// <summary>Whose it is.</summary>
    public long CooperativeId { get; set; }

    /// <summary>What its growers call it.</summary>
    public required string Name { get; set; }

    /// <summary>North positive. [°], −90…90</summary>
    public double Latitude { get; set; }

    /// <summary>East positive. [°], −180…180</summary>
    public double Longitude { get; set; }

    /// <summary>Above sea level. [m]</summary>
    public double Elevation { get; set; }

    /// <summary>Time zone, by its name in the IANA database, such as <c>Europe/Madrid</c>. Decides what a day is here.</summary>
    public required string ZoneId { get; set; }

    /// <summary>Near a large body of water, where the day's range of temperature is small.</summary>
    public bool Coastal { get; set; }

    /// <summary>Local time from which the morning round of this site is due.</summary>
    public LocalTime MorningAt { get; set; } = new(6, 0);

    /// <summary>Feed of the days to come; null while none was chosen.</summary>
    public long? ForecastFeedId { get; set; }

    /// <summary>Feed of a station near by that measures the days gone by; null where there is none. Trusted before the archive.</summary>
    public long? StationFeedId { get; set; }

    /// <summary>Archive of the days gone by, such as a reanalysis; null where station or forecast feed give them.</summary>
    public long? HistoryFeedId { get; set; }

    /// <summary>The station's identifier in the list of the feed that is asked by station; null where none is.</summary>
    public string? Station { get; set; }

    /// <inheritdoc/>
    public int Renamings { get; set; }

    /// <inheritdoc/>
    public Instant? RenamedAt { get; set; }

    /// <inheritdoc/>
    public int Version { get; set; } = 1;

    /// <summary>Beds, where they were asked for in the query.</summary>
    public List<Bed> Beds { get; } = [];
}
