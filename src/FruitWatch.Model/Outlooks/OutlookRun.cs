using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using NodaTime;

namespace FruitWatch.Model.Outlooks;

/// <summary>What to look at in a bed's futures beside the bed left alone.</summary>
/// <param name="WaterMm">Water to give today; 0 for not asking. [mm]</param>
/// <param name="Cover">Cover from today on; null for not asking.</param>
/// <param name="Fans">Whether ranges by day are wanted.</param>
/// <param name="Water">Whether the water by week is wanted.</param>
public sealed record OutlookQuestion(double WaterMm = 0, Cover? Cover = null, bool Fans = false, bool Water = false)
{
    /// <summary>What is still waited for; where it is left out, only what the days to come bring counts.</summary>
    public FlushAwaited Awaited { get; init; } = FlushAwaited.Nothing;
}

/// <summary>Runs the beds of a site through its futures, bed after bed.</summary>
/// <remarks>Not safe for use by several threads at once; each thread keeps its own and shares the weather. Allocates nothing per bed-day.</remarks>
public sealed class OutlookRun
{
    private const int WeekDays = 7;

    private readonly SiteForcing weather;
    private readonly BedState state;
    private readonly DayResult result;
    private readonly FirstDays pins;
    private readonly FirstDays harvest;
    private readonly FirstDays dry;
    private readonly FirstDays wet;
    private readonly FirstDays frost;
    private readonly double[] soonMoisture;
    private readonly double[] given;
    private FlushAwaited awaited;

    /// <summary>Prepares for a site.</summary>
    /// <param name="weather">Its futures; the first day is the day of issue.</param>
    public OutlookRun(SiteForcing weather)
    {
        ArgumentNullException.ThrowIfNull(weather);
        this.weather = weather;
        var members = weather.Futures;
        state = new BedState(members);
        result = new DayResult(members);
        pins = new FirstDays(members);
        harvest = new FirstDays(members);
        dry = new FirstDays(members);
        wet = new FirstDays(members);
        frost = new FirstDays(members);
        soonMoisture = new double[members];
        given = new double[weather.Stride];
    }

    /// <summary>Number of futures.</summary>
    public int Members => weather.Futures;

    /// <summary>The outlook of a bed.</summary>
    /// <param name="bed">The bed.</param>
    /// <param name="log">Its log, today's entries included.</param>
    /// <param name="past">Where the bed stood at the end of yesterday, in one or more accounts.</param>
    /// <param name="lanes">For every future, the account of <paramref name="past"/> it goes on from; empty for the first in all.</param>
    /// <param name="catalogue">Effects of covers.</param>
    /// <param name="question">What else to look at.</param>
    /// <exception cref="ArgumentException">The bed is inoculated after the first day of the outlook.</exception>
    public BedOutlook Of(
        Bed bed, IReadOnlyList<LogEntry> log, BedState past, ReadOnlySpan<int> lanes, BedCatalogue catalogue, OutlookQuestion question)
    {
        ArgumentNullException.ThrowIfNull(bed);
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(question);
        var today = weather.First;
        var age = Period.DaysBetween(bed.Inoculated, today);
        if (age < 0)
            throw new ArgumentException($"The bed is inoculated on {bed.Inoculated:uuuu-MM-dd}, after the outlook's first day {today:uuuu-MM-dd}.", nameof(bed));

        var fans = question.Fans
            ? new OutlookFans(new Fan(weather.Days, weather.Futures), new Fan(weather.Days, weather.Futures))
            : null;
        awaited = question.Awaited;
        state.StartFrom(past, lanes);
        var alone = Run(Plan(log), age, fans, water: null);
        ActionOutlook? watered = null, changed = null, keptMoist = null;
        WeekWater[] water = [];
        if (question.WaterMm > 0)
        {
            state.StartFrom(past, lanes);
            watered = Run(Plan([.. log, new WaterGiven(today, question.WaterMm)]), age, fans: null, water: null);
        }

        if (question.Cover is { } cover)
        {
            state.StartFrom(past, lanes);
            changed = Run(Plan([.. log, new CoverChanged(today, cover) { Time = LocalTime.MaxValue }]), age, fans: null, water: null);
        }

        if (question.Water)
        {
            state.StartFrom(past, lanes);
            var weeks = new WaterByWeek(today, weather.Days, weather.Futures);
            keptMoist = Run(Plan(log), age, fans: null, weeks);
            water = weeks.ToArray();
        }

        return new BedOutlook(today, weather.Days, weather.Futures, alone)
        {
            Watered = watered,
            WaterMm = question.WaterMm,
            CoverChanged = changed,
            CoverThen = question.Cover,
            KeptMoist = keptMoist,
            Fans = fans,
            Water = water,
        };

        BedPlan Plan(IEnumerable<LogEntry> entries) => new(bed, entries, catalogue, age + weather.Days);
    }

    private ActionOutlook Run(BedPlan plan, int age, OutlookFans? fans, WaterByWeek? water)
    {
        var step = new BedStep(plan, weather.Latitude);
        var members = weather.Futures;
        var frostNights = plan.Bed.Species.Triggers.Frost?.Nights;
        pins.Clear();
        harvest.Clear();
        dry.Clear();
        wet.Clear();
        frost.Clear();
        Array.Fill(soonMoisture, double.MaxValue);
        Array.Clear(given);
        NoteWhatStands();
        // What the grower saw today puts all futures there; it is not to come.
        var seenToday = plan.CorrectionsOn(age).ToArray().Any(entry => entry is PinsSeen or Picked);
        int dryDays = 0, wetDays = 0, dryWeek = 0, nearlyDryWeek = 0, soon = 0, nearlySoon = 0;
        for (var day = 0; day < weather.Days; day++)
        {
            step.Advance(state, weather, age + day, result, water is null ? [] : given);
            var filling = plan.On(age + day);
            var mark = (filling.WaterMark - filling.Low) / (filling.Capacity - filling.Low);
            for (var lane = 0; lane < members; lane++)
            {
                var w = result.Moisture[lane];
                switch (result.Events[lane])
                {
                    case AccountEvent.Pins when day > 0 || !seenToday: pins.Note(lane, day); break;
                    case AccountEvent.Harvest when day > 0 || !seenToday: harvest.Note(lane, day); break;
                }

                if (w < mark)
                    dry.Note(lane, day);
                if (result.Air[lane] < HoldWaterRule.AirMark)
                    wet.Note(lane, day);
                if (state.FrostNights[lane] >= frostNights)
                    frost.Note(lane, day);
                if (day < WhatIf.Days)
                {
                    dryDays += w < mark ? 1 : 0;
                    wetDays += result.Air[lane] < HoldWaterRule.AirMark ? 1 : 0;
                }

                if (day <= WaterRule.DryWithinDays)
                    soonMoisture[lane] = Math.Min(soonMoisture[lane], w);

                if (day == Math.Min(WaterRule.MendingDays, weather.Days - 1))
                {
                    soon += soonMoisture[lane] < mark && w < mark ? 1 : 0;
                    nearlySoon += soonMoisture[lane] < mark + WaterRule.KeptAbove && w < mark + WaterRule.KeptAbove ? 1 : 0;
                }

                if (day == Math.Min(CoverOnRule.DryWithinDays, weather.Days) - 1)
                {
                    dryWeek += w < mark ? 1 : 0;
                    nearlyDryWeek += w < mark + WaterRule.KeptAbove ? 1 : 0;
                }

                // A grower who keeps the bed moist sees in the evening that it has fallen below its mark, and fills it up in the morning.
                if (water is not null)
                    given[lane] = day + 1 < weather.Days && w < mark ? filling.Capacity - state.Water[lane] : 0;
            }

            water?.Add(day + 1, given.AsSpan(0, members));
            fans?.Moisture.Set(day, result.Moisture.AsSpan(0, members));
            fans?.BedTemperature.Set(day, state.BedTemperature.AsSpan(0, members));
        }

        var first = weather.First;
        Array.Sort(soonMoisture);
        return new ActionOutlook(
            pins.Outlook(first, weather.Days),
            harvest.Outlook(first, weather.Days),
            dry.Outlook(first, weather.Days),
            wet.Outlook(first, weather.Days),
            frostNights is null ? null : frost.Outlook(first, weather.Days),
            soon,
            nearlySoon,
            soonMoisture[(members - 1) / 2],
            dryWeek,
            nearlyDryWeek,
            (double)dryDays / members,
            (double)wetDays / members);
    }

    /// <summary>Futures in which pins, or a flush of picking size, stand this morning that nobody has seen.</summary>
    private void NoteWhatStands()
    {
        for (var lane = 0; lane < weather.Futures; lane++)
        {
            var phase = state.Phases[lane];
            var picked = phase == Phase.Resting && state.Flushes[lane] > awaited.Flushes;
            if (awaited.Pins && (picked || phase is Phase.Growing or Phase.Picking))
                pins.Note(lane, 0);
            if (awaited.Harvest && (picked || phase == Phase.Picking))
                harvest.Note(lane, 0);
        }
    }

    /// <summary>First day of something in each future.</summary>
    private sealed class FirstDays(int members)
    {
        private readonly int[] days = new int[members];

        public void Clear() => Array.Fill(days, EventOutlook.Never);

        public void Note(int lane, int day)
        {
            if (days[lane] == EventOutlook.Never)
                days[lane] = day;
        }

        public EventOutlook Outlook(LocalDate today, int outlookDays) => EventOutlook.Of(today, outlookDays, days);
    }

    /// <summary>Adds up by week what was given.</summary>
    private sealed class WaterByWeek(LocalDate today, int days, int members)
    {
        private readonly double[] mm = new double[(days + WeekDays - 1) / WeekDays];
        private readonly bool[] any = new bool[(days + WeekDays - 1) / WeekDays * members];

        public void Add(int day, ReadOnlySpan<double> given)
        {
            if (day >= days)
                return;
            var week = day / WeekDays;
            for (var lane = 0; lane < given.Length; lane++)
            {
                mm[week] += given[lane];
                any[week * members + lane] |= given[lane] > 0;
            }
        }

        public WeekWater[] ToArray() =>
        [
            .. mm.Select((sum, week) => new WeekWater(
                today.PlusDays(week * WeekDays),
                Math.Min(WeekDays, days - week * WeekDays),
                sum / members,
                any.AsSpan(week * members, members).Count(true))),
        ];
    }
}
