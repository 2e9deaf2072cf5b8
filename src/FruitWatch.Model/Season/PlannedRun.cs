using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>
/// A bed inoculated in a past year, watered as a careful grower would, run for 500 days through that year's weather.
/// Days are counted from inoculation.
/// </summary>
public readonly record struct PlannedRun
{
    /// <summary>Day of inoculation.</summary>
    public LocalDate Start { get; init; }

    /// <summary>Day on which the bed became ready; null where it did not within 500 days. [d]</summary>
    public int? SpawnRunDays { get; init; }

    /// <summary>Day of the first pins, or null. [d]</summary>
    public int? FirstPinsDays { get; init; }

    /// <summary>Day of the first pick, or null. [d]</summary>
    public int? FirstPickDays { get; init; }

    /// <summary>Flushes picked out within 500 days.</summary>
    public int Flushes { get; init; }

    /// <summary>Waterings within 500 days, the light ones of the first two weeks included.</summary>
    public int Waterings { get; init; }

    /// <summary>Water given within 500 days. [L/m²]</summary>
    public double Litres { get; init; }

    /// <summary>Waterings within 12 months: the same stretch of the year whatever the week of inoculation.</summary>
    public int WateringsOfYear { get; init; }

    /// <summary>Water given within 12 months. [L/m²]</summary>
    public double LitresOfYear { get; init; }

    /// <summary>Why there was no pick within 12 months; null where there was one.</summary>
    public NoPickReason? Failure { get; init; }

    /// <summary>Whether there was a pick within 12 months.</summary>
    public bool Picked => Failure is null;
}

/// <summary>A run that was left out, for more than a tenth of its days were unknown and filled.</summary>
/// <param name="Start">Day of inoculation.</param>
/// <param name="FilledDays">Days that were filled. [d]</param>
public sealed record LeftOutRun(LocalDate Start, int FilledDays);
