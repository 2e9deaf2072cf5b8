using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>
/// The bed of one species, ready to be run from any day of the past. It knows its age and no calendar, so that one serves all
/// weeks, years and threads.
/// </summary>
internal sealed class TrialBed
{
    /// <summary>Stands for the day of inoculation, whichever it was.</summary>
    public static readonly LocalDate Day0 = new(2000, 1, 1);

    private readonly double[] capacity;

    public TrialBed(Bed bed, BedCatalogue catalogue, double latitude)
    {
        Bed = bed;
        var plan = new BedPlan(bed, [], catalogue, SeasonPlanner.RunDays);
        Step = new BedStep(plan, latitude);
        capacity = new double[SeasonPlanner.RunDays];
        for (var day = 0; day < capacity.Length; day++)
            capacity[day] = plan.On(day).Capacity;
        // Of one material, the mark does not move while the bed settles.
        var first = plan.On(0);
        WaterMark = (first.WaterMark - first.Low) / (first.Capacity - first.Low);
    }

    public Bed Bed { get; }

    public Species Species => Bed.Species;

    public BedStep Step { get; }

    /// <summary>Relative moisture below which a grower waters.</summary>
    public double WaterMark { get; }

    /// <summary>Water that the bed holds when full. [mm]</summary>
    public double CapacityOn(int day) => capacity[day];
}
