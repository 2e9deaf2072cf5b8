using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Account;

/// <summary>
/// Spawn run, triggers and flushes: which phase a bed is in. At most one transition a day, judged in the phase that the day
/// began with; the grower's log has the last word at the day's end.
/// </summary>
internal sealed class Fruiting
{
    private const double PoorDay = 0.05;
    private const int PoorDaysEndPinning = 7;
    private const int PoorDaysEndGrowing = 5;
    private const double HeatLoss = 0.1;

    private readonly Species species;
    private readonly double runPerDay;
    private readonly NodaTime.LocalDate inoculated;
    private readonly double latitude;

    public Fruiting(Species species, Bed bed, double latitude)
    {
        this.species = species;
        inoculated = bed.Inoculated;
        this.latitude = latitude;
        var rate = bed.SpawnRate ?? species.SpawnRun.SpawnRate;
        var spawn = Math.Clamp(Math.Sqrt(rate / species.SpawnRun.SpawnRate), 0.5, 1.5);
        runPerDay = spawn / species.SpawnRun.DaysAtOptimum;
    }

    public void Advance(BedState state, SiteForcing forcing, int at, int day, in BedDay today, DayResult result)
    {
        var coldYearStarts = SiteForcing.IsColdYearStart(inoculated.PlusDays(day), latitude);
        var grows = false;
        var weather = at * forcing.Stride;
        var next = forcing.Futures == 1 ? 0 : 1; // one series of weather serves all lanes
        for (var lane = 0; lane < state.Stride; lane++)
        {
            CountFrost(state, lane, day, forcing.ColdYearStarts?[weather + next * lane] ?? coldYearStarts, result.GroundMin[lane]);
            result.Unmet[lane] = Unmet.None;
            result.Events[lane] = state.Phases[lane] switch
            {
                Phase.SpawnRun => Run(state, lane, day, result),
                Phase.Ready => Wait(state, lane, day, forcing.Tmean[weather + next * lane], result),
                Phase.Pinning => Pin(state, lane, day, forcing.HumidityFactor[weather + next * lane], result),
                Phase.Growing => Grow(state, lane, day, result),
                Phase.Picking => Pick(state, lane, day),
                Phase.Resting => Rest(state, lane, day, today.FlushLife, result),
                _ => AccountEvent.None,
            };
            grows |= state.Phases[lane] is Phase.SpawnRun or Phase.Resting;
            state.PastBedTemperature[day % BedState.CoolingDays * state.Stride + lane] = state.BedTemperature[lane];
        }

        state.MyceliumGrows = grows;
    }

    /// <summary>State entries of the log, in order of time, at the end of their day and in every future.</summary>
    public static void Correct(BedState state, int day, ReadOnlySpan<LogEntry> entries, DayResult result)
    {
        foreach (var entry in entries)
        {
            for (var lane = 0; lane < state.Stride; lane++)
            {
                switch (entry)
                {
                    case MyceliumSeen seen:
                        state.SpawnRun[lane] = Math.Max(state.SpawnRun[lane], seen.Share);
                        break;
                    case PinsSeen:
                        Enter(state, lane, Phase.Growing, day);
                        result.Events[lane] = AccountEvent.Pins;
                        break;
                    case Picked:
                        SeePicking(state, lane, day, result);
                        break;
                    case FlushOver when state.Phases[lane] != Phase.Resting:
                        EndFlush(state, lane, day);
                        result.Events[lane] = AccountEvent.FlushOver;
                        break;
                    case ToppedUp:
                        state.FlushesOfFilling[lane] = 0;
                        // A spent bed has to grow into its fresh material first; what is then picked is a new flush.
                        if (state.Phases[lane] == Phase.Spent)
                        {
                            Enter(state, lane, Phase.Resting, day);
                            state.RestsFromPicking[lane] = false;
                        }

                        break;
                    case BedSpent:
                        Enter(state, lane, Phase.Spent, day);
                        result.Events[lane] = AccountEvent.Spent;
                        break;
                }
            }
        }

        state.MyceliumGrows = true;
    }

    private void CountFrost(BedState state, int lane, int day, bool coldYearStarts, double groundMin)
    {
        if (species.Triggers.Frost is not { } frost || day <= state.FirstReady[lane])
            return;
        if (coldYearStarts)
            state.FrostNights[lane] = 0;
        if (groundMin <= frost.GroundMin)
            state.FrostNights[lane]++;
    }

    private AccountEvent Run(BedState state, int lane, int day, DayResult result)
    {
        var run = state.SpawnRun[lane] + result.MyceliumGrowth[lane] * runPerDay * state.GrowthMultiplier[lane];
        var harmed = state.BedTemperature[lane] >= species.SpawnRun.THarm;
        if (harmed)
            run -= HeatLoss;
        run = Math.Clamp(run, 0, 1);
        state.SpawnRun[lane] = run;
        if (run >= 1 && day >= species.SpawnRun.EarliestReadyDays)
        {
            Enter(state, lane, Phase.Ready, day);
            return AccountEvent.Colonised;
        }

        return harmed ? AccountEvent.HeatDamage : AccountEvent.None;
    }

    private AccountEvent Wait(BedState state, int lane, int day, double tmean, DayResult result)
    {
        var unmet = UnmetTriggers(state, lane, day, tmean);
        result.Unmet[lane] = unmet;
        if (unmet != Unmet.None || result.PinFactor[lane] <= 0)
            return AccountEvent.None;
        Enter(state, lane, Phase.Pinning, day);
        return AccountEvent.Triggered;
    }

    private Unmet UnmetTriggers(BedState state, int lane, int day, double tmean)
    {
        var unmet = Unmet.None;
        if (species.Triggers.Soak is { } soak && Inflow(state, lane, day, soak.Days) < soak.Mm)
            unmet |= Unmet.Soak;
        if (species.Triggers.Frost is { } frost && state.FrostNights[lane] < frost.Nights)
            unmet |= Unmet.Frost;
        if (species.Triggers.Cooling is { } cooling
            && state.BedTemperature[lane] > cooling.Mark
            && !(day >= BedState.CoolingDays && PastMean(state, lane, day) - tmean >= cooling.Delta))
            unmet |= Unmet.Cooling;
        return unmet;
    }

    private static double Inflow(BedState state, int lane, int day, int days)
    {
        // Oldest first: the order of a sum decides its last bit, and with it a day on which the sum just reaches the mark.
        var sum = 0.0;
        for (var past = Math.Max(0, day - days + 1); past <= day; past++)
            sum += state.Inflow[past % days * state.Stride + lane];
        return sum;
    }

    private static double PastMean(BedState state, int lane, int day)
    {
        var sum = 0.0;
        for (var past = day - BedState.CoolingDays; past < day; past++)
            sum += state.PastBedTemperature[past % BedState.CoolingDays * state.Stride + lane];
        return sum / BedState.CoolingDays;
    }

    private AccountEvent Pin(BedState state, int lane, int day, double humidityFactor, DayResult result)
    {
        var x = result.PinFactor[lane] * result.MoistureFactor[lane] * humidityFactor;
        state.Progress[lane] += x / species.Pinning.Days;
        if (state.Progress[lane] >= 1)
        {
            Enter(state, lane, Phase.Growing, day);
            return AccountEvent.Pins;
        }

        if (CountPoor(state, lane, x) < PoorDaysEndPinning)
            return AccountEvent.None;
        Enter(state, lane, Phase.Ready, day);
        return AccountEvent.AttemptFailed;
    }

    private AccountEvent Grow(BedState state, int lane, int day, DayResult result)
    {
        var x = result.GrowFactor[lane] * result.MoistureFactor[lane];
        state.Progress[lane] += x / species.Growing.Days;
        if (result.GroundMin[lane] <= species.Growing.KillingFrost || CountPoor(state, lane, x) >= PoorDaysEndGrowing)
        {
            Enter(state, lane, Phase.Resting, day);
            state.RestsFromPicking[lane] = false;
            return AccountEvent.FlushLost;
        }

        if (state.Progress[lane] < 1)
            return AccountEvent.None;
        Enter(state, lane, Phase.Picking, day);
        return AccountEvent.Harvest;
    }

    private AccountEvent Pick(BedState state, int lane, int day)
    {
        state.Progress[lane] += 1 / species.PickingDays;
        if (state.Progress[lane] < 1)
            return AccountEvent.None;
        EndFlush(state, lane, day);
        return AccountEvent.FlushOver;
    }

    private AccountEvent Rest(BedState state, int lane, int day, double flushLife, DayResult result)
    {
        state.Progress[lane] += result.MyceliumGrowth[lane] * state.GrowthMultiplier[lane] / species.RestingDays;
        if (state.Progress[lane] < 1)
            return AccountEvent.None;
        var spent = state.FlushesOfFilling[lane] >= flushLife;
        Enter(state, lane, spent ? Phase.Spent : Phase.Ready, day);
        return spent ? AccountEvent.Spent : AccountEvent.Ready;
    }

    private static void SeePicking(BedState state, int lane, int day, DayResult result)
    {
        // Picked again while the model already rests: the same flush was not over yet, and is not counted twice.
        if (state.Phases[lane] == Phase.Resting && state.RestsFromPicking[lane])
        {
            state.Flushes[lane]--;
            state.FlushesOfFilling[lane]--;
        }

        if (state.Phases[lane] == Phase.Picking)
            return;
        Enter(state, lane, Phase.Picking, day);
        result.Events[lane] = AccountEvent.Harvest;
    }

    private static void EndFlush(BedState state, int lane, int day)
    {
        state.Flushes[lane]++;
        state.FlushesOfFilling[lane]++;
        Enter(state, lane, Phase.Resting, day);
        state.RestsFromPicking[lane] = true;
    }

    private static int CountPoor(BedState state, int lane, double x) =>
        state.PoorDays[lane] = x < PoorDay ? state.PoorDays[lane] + 1 : 0;

    private static void Enter(BedState state, int lane, Phase phase, int day)
    {
        state.Phases[lane] = phase;
        state.Progress[lane] = 0;
        state.PoorDays[lane] = 0;
        if (state.FirstReady[lane] == BedState.NotYet)
            state.FirstReady[lane] = day;
    }
}
