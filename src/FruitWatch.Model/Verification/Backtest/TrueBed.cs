using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;
using NodaTime;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>A bed of a past year: what it truly did in the weather that came, and what its grower wrote down of it.</summary>
internal sealed class TrueBed
{
    private const double SdSqueeze = 0.07; // of the wet basis, as learning takes it
    private const double SdMycelium = 0.15; // as learning takes it
    private const double CrumblesBelow = 0.5; // midway between the relative moistures that the classes stand for
    private const double DripsAbove = 1.05;
    private const double LightWatering = 2; // mm; as the season planner waters
    private const int DailyUntil = 7;
    private const int EveryOtherUntil = 14;
    private const int SqueezeEvery = 14;
    private const int MyceliumEvery = 30;
    private const int LookEvery = 7;
    private const int LooksFrom = 30;

    private readonly Phase[] phases;
    private readonly List<int> pins = [];
    private readonly List<LogEntry> log = [];

    private TrueBed(int number, Bed known, int days)
    {
        Number = number;
        Known = known;
        phases = new Phase[days];
    }

    /// <summary>Which of the backtest's beds it is.</summary>
    public int Number { get; }

    /// <summary>The bed as its grower described it: with the catalogue's species, and nothing known of its multipliers.</summary>
    public Bed Known { get; }

    /// <summary>The last day that is known of it.</summary>
    public LocalDate LastDay => Known.Inoculated.PlusDays(phases.Length - 1);

    /// <summary>All that its grower wrote down, in order.</summary>
    public IReadOnlyList<LogEntry> Log => log;

    /// <summary>True multipliers on evaporation and growth.</summary>
    public (double Evaporation, double Growth) Multipliers { get; private init; }

    /// <summary>Times that pins came.</summary>
    public int PinsCount => pins.Count;

    /// <summary>What was written down before a day.</summary>
    public List<LogEntry> LogBefore(LocalDate day) => [.. log.TakeWhile(entry => entry.Date < day)];

    /// <summary>Where it truly stood at the end of a day.</summary>
    public Phase PhaseOn(LocalDate day) => phases[Period.DaysBetween(Known.Inoculated, day)];

    /// <summary>The day of its next pins, from a day on; null where none came while it was followed.</summary>
    public LocalDate? NextPins(LocalDate from)
    {
        var day = Period.DaysBetween(Known.Inoculated, from);
        var at = pins.FindIndex(p => p >= day);
        return at < 0 ? null : Known.Inoculated.PlusDays(pins[at]);
    }

    /// <summary>Lets a bed live through the weather that came.</summary>
    /// <param name="number">Which of the backtest's beds it is.</param>
    /// <param name="known">The bed as its grower describes it.</param>
    /// <param name="strain">The species as it truly is.</param>
    /// <param name="weather">The weather that came.</param>
    /// <param name="days">Days that it is followed.</param>
    /// <param name="catalogue">Covers and spreads.</param>
    /// <param name="draws">Its own.</param>
    public static TrueBed Live(int number, Bed known, Species strain, SiteForcing weather, int days, BedCatalogue catalogue, Draws draws)
    {
        var bed = new TrueBed(number, known, days)
        {
            Multipliers = (
                Math.Exp(catalogue.Learning.SigmaEvaporation * draws.Normal()),
                Math.Exp(catalogue.Learning.SigmaGrowth * draws.Normal())),
        };
        var truth = known with
        {
            Species = strain,
            EvaporationMultiplier = bed.Multipliers.Evaporation,
            GrowthMultiplier = bed.Multipliers.Growth,
        };
        bed.Live(new BedPlan(truth, [], catalogue, days), weather, draws);
        return bed;
    }

    private void Live(BedPlan plan, SiteForcing weather, Draws draws)
    {
        var step = new BedStep(plan, weather.Latitude);
        var state = new BedState(1);
        var result = new DayResult(1);
        var given = new double[state.Stride];
        int? pinsSeenOn = null;
        step.Start(state, weather);
        for (var day = 0; day < phases.Length; day++)
        {
            var date = plan.Bed.Inoculated.PlusDays(day);
            var today = plan.On(day);
            Array.Fill(given, Watering(day, today, state, result));
            if (given[0] > 0)
                log.Add(new WaterGiven(date, given[0]));

            step.Advance(state, weather, day, result, given);
            phases[day] = state.Phases[0];
            if (result.Events[0] == AccountEvent.Pins)
            {
                pins.Add(day);
                pinsSeenOn = day + draws.Below(3);
            }

            WriteDown(date, day, today, state, result.Events[0], ref pinsSeenOn, draws);
        }
    }

    /// <summary>A careful grower: lightly at first, then filled up on the morning after the bed fell below its mark.</summary>
    private static double Watering(int day, in BedDay today, BedState state, DayResult yesterday)
    {
        if (state.Phases[0] == Phase.Spent)
            return 0;
        var mark = (today.WaterMark - today.Low) / (today.Capacity - today.Low);
        if (day > 0 && yesterday.Moisture[0] < mark)
            return Math.Max(0, today.Capacity - state.Water[0]);
        return day < DailyUntil || (day < EveryOtherUntil && (day - DailyUntil) % 2 == 0) ? LightWatering : 0;
    }

    private void WriteDown(LocalDate date, int day, in BedDay today, BedState state, AccountEvent happened, ref int? pinsSeenOn, Draws draws)
    {
        // Drawn whether or not they are needed, so that one observation more does not change all that follow.
        var (moisture, mycelium) = (SdSqueeze * draws.Normal(), SdMycelium * draws.Normal());
        var phase = state.Phases[0];
        if (day % SqueezeEvery == SqueezeEvery - 1 && phase != Phase.Spent)
            log.Add(new SqueezeTest(date, Squeezed(today, state.Water[0] / (state.Water[0] + today.DryMass) + moisture)));
        if (day % MyceliumEvery == MyceliumEvery - 1 && phase == Phase.SpawnRun)
            log.Add(new MyceliumSeen(date, Math.Clamp(state.SpawnRun[0] + mycelium, 0, 1)));

        var showing = phase is Phase.Growing or Phase.Picking;
        if (day == pinsSeenOn && showing)
            log.Add(new PinsSeen(date));
        else if (day % LookEvery == 0 && day >= LooksFrom && !showing && phase != Phase.Spent)
            log.Add(new NoPinsFound(date));
        if (happened == AccountEvent.Harvest)
            log.Add(new Picked(date, 1));
    }

    private static Squeeze Squeezed(in BedDay today, double wetBasis)
    {
        var felt = Math.Clamp(wetBasis, 0, 0.99);
        var relative = (felt * today.DryMass / (1 - felt) - today.Low) / (today.Capacity - today.Low);
        return relative < CrumblesBelow ? Squeeze.Crumbles : relative > DripsAbove ? Squeeze.Dripping : Squeeze.Right;
    }
}
