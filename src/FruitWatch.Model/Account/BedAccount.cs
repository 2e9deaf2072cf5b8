using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Model.Account;

/// <summary>
/// A bed's account, day by day from inoculation: a pure function of bed, log, weather and catalogue. Nothing of it needs to be
/// kept; recomputing gives the same to the last bit.
/// </summary>
public sealed class BedAccount
{
    private BedAccount(BedPlan plan, AccountDay[] days, BedState end)
    {
        Plan = plan;
        Days = days;
        End = end;
    }

    /// <summary>The bed and its log.</summary>
    public BedPlan Plan { get; }

    /// <summary>The days, from inoculation on.</summary>
    public IReadOnlyList<AccountDay> Days { get; }

    /// <summary>Where the bed stands after the last day; futures go on from here.</summary>
    public BedState End { get; }

    /// <summary>The account of a day, or null where it does not reach.</summary>
    public AccountDay? On(LocalDate date)
    {
        var day = Period.DaysBetween(Plan.Bed.Inoculated, date);
        return day >= 0 && day < Days.Count ? Days[day] : null;
    }

    /// <summary>Runs the account.</summary>
    /// <param name="bed">The bed.</param>
    /// <param name="log">Its log, in any order.</param>
    /// <param name="forcing">The site's weather, one future, from inoculation at the latest.</param>
    /// <param name="catalogue">Effects of covers.</param>
    /// <param name="until">Last day, included; at most the weather's last.</param>
    /// <exception cref="ArgumentException">The days do not reach, or the log has an entry from before the inoculation.</exception>
    public static BedAccount Run(Bed bed, IEnumerable<LogEntry> log, SiteForcing forcing, BedCatalogue catalogue, LocalDate until)
    {
        ArgumentNullException.ThrowIfNull(bed);
        ArgumentNullException.ThrowIfNull(forcing);
        if (forcing.Futures != 1)
            throw new ArgumentException("The account runs on one series of weather.", nameof(forcing));
        if (until < bed.Inoculated)
            throw new ArgumentException($"The account would end on {until:uuuu-MM-dd}, before the inoculation on {bed.Inoculated:uuuu-MM-dd}.", nameof(until));
        if (forcing.First > bed.Inoculated || forcing.End <= until)
            throw new ArgumentException(
                $"The weather runs from {forcing.First:uuuu-MM-dd} to {forcing.End.PlusDays(-1):uuuu-MM-dd}; the account needs {bed.Inoculated:uuuu-MM-dd} to {until:uuuu-MM-dd}.", nameof(forcing));

        var count = Period.DaysBetween(bed.Inoculated, until) + 1;
        var plan = new BedPlan(bed, log, catalogue, count);
        var step = new BedStep(plan, forcing.Latitude);
        var state = new BedState(1);
        var result = new DayResult(1, withFlows: true);
        var days = new AccountDay[count];
        step.Start(state, forcing);
        for (var day = 0; day < count; day++)
        {
            step.Advance(state, forcing, day, result);
            days[day] = Describe(plan, forcing, day, state, result);
        }

        return new BedAccount(plan, days, state);
    }

    private static AccountDay Describe(BedPlan plan, SiteForcing forcing, int day, BedState state, DayResult result)
    {
        var today = plan.On(day);
        var at = (Period.DaysBetween(forcing.First, plan.Bed.Inoculated) + day) * forcing.Stride;
        var flows = result.Flows!;
        var running = state.Phases[0] is Phase.SpawnRun or Phase.Ready or Phase.Spent;
        return new AccountDay
        {
            Date = plan.Bed.Inoculated.PlusDays(day),
            Et0 = forcing.Et0[at],
            Water = state.Water[0],
            MulchWater = state.Mulch[0],
            Moisture = result.Moisture[0],
            WetBasis = state.Water[0] / (state.Water[0] + today.DryMass),
            Air = result.Air[0],
            BedTemperature = state.BedTemperature[0],
            SoilTemperature = state.SoilTemperature[0],
            PinZone = result.PinZone[0],
            GroundMin = result.GroundMin[0],
            MoistureFactor = result.MoistureFactor[0],
            PinFactor = result.PinFactor[0],
            GrowFactor = result.GrowFactor[0],
            Humidity = forcing.Humidity[at],
            HumidityFactor = forcing.HumidityFactor[at],
            Limit = LimitOf(result, forcing.HumidityFactor[at]),
            SpawnRun = state.SpawnRun[0],
            Phase = state.Phases[0],
            Progress = running ? 0 : state.Progress[0],
            Flushes = state.Flushes[0],
            Event = result.Events[0],
            FrostNights = state.FrostNights[0],
            Depth = today.Depth,
            Rain = flows.Rain[0],
            RainToMulch = flows.ToMulch[0],
            Inflow = flows.Inflow[0],
            Given = today.Given,
            PassedThrough = flows.PassedThrough[0],
            Drained = flows.Drained[0],
            EvaporatedFromMulch = flows.FromMulch[0],
            Evaporated = flows.Evaporated[0],
            Filling = flows.Filling[0],
            Corrected = flows.Corrected[0],
            AvailableStore = today.Capacity - today.Low,
            WaterMark = (today.WaterMark - today.Low) / (today.Capacity - today.Low),
        };
    }

    private static LimitingFactor LimitOf(DayResult result, double humidityFactor)
    {
        var unmet = result.Unmet[0];
        if (unmet.HasFlag(Unmet.Soak))
            return LimitingFactor.Soak;
        if (unmet.HasFlag(Unmet.Frost))
            return LimitingFactor.Frost;
        if (unmet.HasFlag(Unmet.Cooling))
            return LimitingFactor.Cooling;

        var moisture = result.MoistureFactor[0];
        var temperature = result.PinFactor[0];
        return moisture <= temperature && moisture <= humidityFactor ? LimitingFactor.Moisture
            : temperature <= humidityFactor ? LimitingFactor.Temperature
            : LimitingFactor.Humidity;
    }
}
