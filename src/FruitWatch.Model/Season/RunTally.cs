using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>What is kept of a run while it goes on.</summary>
internal struct RunTally
{
    private const int Never = -1;
    private const double HeatLoss = 0.1; // of the spawn run, on each hot day

    private int spawnRunEnd;
    private int firstPins;
    private int firstPick;
    private int waterings;
    private int wateringsOfYear;
    private double litres;
    private double litresOfYear;
    private int hotDays;
    private int withoutSoak;
    private int withoutFrost;
    private int withoutCooling;
    private int tooWarm;
    private int tooCold;
    private int failedAttempts;
    private NoPickReason? flushLost;
    private NoPickReason? failure;

    public static RunTally Begun => new() { spawnRunEnd = Never, firstPins = Never, firstPick = Never };

    public void Water(int day, double mm)
    {
        if (mm <= 0)
            return;
        waterings++;
        litres += mm;
        if (day >= SeasonPlanner.YearDays)
            return;
        wateringsOfYear++;
        litresOfYear += mm;
    }

    public void Note(int day, int lane, Species species, BedState state, DayResult result)
    {
        switch (result.Events[lane])
        {
            case AccountEvent.Colonised: spawnRunEnd = day; break;
            case AccountEvent.Pins when firstPins == Never: firstPins = day; break;
            case AccountEvent.Harvest when firstPick == Never: firstPick = day; break;
            case AccountEvent.HeatDamage: hotDays++; break;
            case AccountEvent.AttemptFailed: failedAttempts++; break;
            case AccountEvent.FlushLost: flushLost = LossOf(lane, species, result); break;
            // A bed that becomes ready has an event on that day; one that waits has none.
            case AccountEvent.None when state.Phases[lane] == Phase.Ready: NoteWaiting(lane, species, result); break;
        }

        if (day == SeasonPlanner.YearDays && firstPick == Never)
            failure = FailureOf(state.Phases[lane], state.SpawnRun[lane]);
    }

    public readonly PlannedRun Finish(LocalDate start, int flushes) => new()
    {
        Start = start,
        SpawnRunDays = Known(spawnRunEnd),
        FirstPinsDays = Known(firstPins),
        FirstPickDays = Known(firstPick),
        Flushes = flushes,
        Waterings = waterings,
        Litres = litres,
        WateringsOfYear = wateringsOfYear,
        LitresOfYear = litresOfYear,
        Failure = failure,
    };

    private static int? Known(int day) => day == Never ? null : day;

    private void NoteWaiting(int lane, Species species, DayResult result)
    {
        var unmet = result.Unmet[lane];
        withoutSoak += (unmet & Unmet.Soak) != 0 ? 1 : 0;
        withoutFrost += (unmet & Unmet.Frost) != 0 ? 1 : 0;
        withoutCooling += (unmet & Unmet.Cooling) != 0 ? 1 : 0;
        if (result.PinFactor[lane] > 0)
            return;
        if (result.PinZone[lane] <= species.Pinning.Band.ZeroBelow)
            tooCold++;
        else
            tooWarm++;
    }

    private static NoPickReason LossOf(int lane, Species species, DayResult result)
    {
        if (result.GroundMin[lane] <= species.Growing.KillingFrost)
            return NoPickReason.FlushLostToFrost;
        if (result.GrowFactor[lane] <= result.MoistureFactor[lane])
            return result.PinZone[lane] < species.Growing.Band.FullFrom ? NoPickReason.FlushLostToCold : NoPickReason.FlushLostToHeat;
        // The moisture factor is the smaller of its two parts, water and air.
        return (result.Air[lane] - 0.05) / 0.10 < (result.Moisture[lane] - 0.10) / 0.35 ? NoPickReason.FlushLostToWet : NoPickReason.FlushLostToDrought;
    }

    private readonly NoPickReason FailureOf(Phase phase, double spawnRun) => phase switch
    {
        Phase.SpawnRun when spawnRun >= 1 => NoPickReason.TooYoung,
        Phase.SpawnRun when hotDays > 0 && spawnRun + hotDays * HeatLoss >= 1 => NoPickReason.HeatHarmedSpawn,
        Phase.SpawnRun => NoPickReason.SpawnRunNotDone,
        Phase.Pinning or Phase.Growing => NoPickReason.OnItsWay,
        _ when flushLost is { } lost => lost,
        _ when failedAttempts > 0 => NoPickReason.PinningFailed,
        _ => MostOftenMissing(),
    };

    private readonly NoPickReason MostOftenMissing()
    {
        ReadOnlySpan<(int Days, NoPickReason Reason)> waits =
        [
            (withoutSoak, NoPickReason.WaitedForSoak),
            (withoutFrost, NoPickReason.WaitedForFrost),
            (withoutCooling, NoPickReason.WaitedForCooling),
            (tooWarm, NoPickReason.TooWarmToPin),
            (tooCold, NoPickReason.TooColdToPin),
        ];
        var most = (Days: 0, Reason: NoPickReason.OnItsWay);
        foreach (var wait in waits)
        {
            if (wait.Days > most.Days)
                most = wait;
        }

        return most.Reason;
    }
}
