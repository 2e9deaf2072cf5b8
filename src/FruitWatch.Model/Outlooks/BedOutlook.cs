using FruitWatch.Model.Beds;
using NodaTime;

namespace FruitWatch.Model.Outlooks;

/// <summary>What a bed's many futures bring, left alone and under what its grower could do today.</summary>
/// <param name="Today">First day of the outlook, the day of issue.</param>
/// <param name="Days">Number of days.</param>
/// <param name="Members">Number of futures.</param>
/// <param name="Alone">With nothing done that the log does not have.</param>
public sealed record BedOutlook(LocalDate Today, int Days, int Members, ActionOutlook Alone)
{
    /// <summary>Watered today with <see cref="WaterMm"/>; null where no amount was asked about.</summary>
    public ActionOutlook? Watered { get; init; }

    /// <summary>Water that <see cref="Watered"/> gives. [mm]</summary>
    public double WaterMm { get; init; }

    /// <summary>With the cover taken off today, or put on where there is none; null where that was not asked about.</summary>
    public ActionOutlook? CoverChanged { get; init; }

    /// <summary>What <see cref="CoverChanged"/> lays over the bed; null where that was not asked about.</summary>
    public Cover? CoverThen { get; init; }

    /// <summary>
    /// Filled up on the morning after every evening on which it lies below its water mark, from tomorrow on: the course that
    /// <see cref="Water"/> is of. Null where that was not asked for.
    /// </summary>
    public ActionOutlook? KeptMoist { get; init; }

    /// <summary>Moisture and temperature by day, left alone; null where they were not asked for.</summary>
    public OutlookFans? Fans { get; init; }

    /// <summary>Water that keeps the bed above its mark, by week from today on; empty where it was not asked for.</summary>
    public IReadOnlyList<WeekWater> Water { get; init; } = [];

    /// <summary>The last day.</summary>
    public LocalDate LastDay => Today.PlusDays(Days - 1);
}

/// <summary>What the futures bring under one course of action.</summary>
/// <param name="Pins">The next pins.</param>
/// <param name="Harvest">The next flush of picking size.</param>
/// <param name="Dry">The layer below its water mark.</param>
/// <param name="Wet">Too little air in the layer.</param>
/// <param name="Frost">The frost trigger met; null for a species without one.</param>
/// <param name="DrySoon">Futures that are dry at the end of today or tomorrow, and still so the day after.</param>
/// <param name="NearlyDrySoon">The same by a mark that is a little higher; keeps an advice from flapping.</param>
/// <param name="SoonMoisture">Lowest relative moisture at the end of today or tomorrow, median of the futures.</param>
/// <param name="DryWeek">Futures that are dry at the end of a week.</param>
/// <param name="NearlyDryWeek">The same by a mark that is a little higher.</param>
/// <param name="DryDays">Mean number of dry days within <see cref="WhatIf.Days"/>.</param>
/// <param name="WetDays">Mean number of days too wet within <see cref="WhatIf.Days"/>.</param>
public sealed record ActionOutlook(
    EventOutlook Pins,
    EventOutlook Harvest,
    EventOutlook Dry,
    EventOutlook Wet,
    EventOutlook? Frost,
    int DrySoon,
    int NearlyDrySoon,
    double SoonMoisture,
    int DryWeek,
    int NearlyDryWeek,
    double DryDays,
    double WetDays);

/// <summary>Water that a bed wants in one week so as to stay above its mark.</summary>
/// <param name="From">First day of the week.</param>
/// <param name="Days">Days of it that the outlook covers; 7 but for the last.</param>
/// <param name="MeanMm">Mean over the futures. [mm = L/m²]</param>
/// <param name="Futures">Futures that want any.</param>
public sealed record WeekWater(LocalDate From, int Days, double MeanMm, int Futures);
