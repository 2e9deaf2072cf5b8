using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Outlooks;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Outlooks;

// Every future of an outlook is an account; so each is held to BedAccount, run alone. Weather: Seattle, NOAA.
public class OutlookRunTests
{
    private const int Members = 7;
    private const int Days = 120;

    private static readonly LocalDate s_inoculated = new(2013, 4, 10);
    private static readonly LocalDate s_today = new(2013, 7, 20);

    private static BedCatalogue Catalogue => BedCatalogue.BuiltIn;

    private static readonly Bed s_bed = Laid("wine-cap");
    private static readonly LogEntry[] s_log = [new MyceliumSeen(new LocalDate(2013, 6, 20), 0.9), new CoverChanged(new LocalDate(2013, 7, 1), Cover.PiercedSheet)];

    [Theory]
    [InlineData("wine-cap")]
    [InlineData("oyster-cold")]
    [InlineData("wood-blewit")]
    public void Each_future_counts_as_its_own_account_does(string species)
    {
        var bed = Laid(species);
        var outlook = Outlook(bed, new OutlookQuestion(WaterMm: 12, Cover.None));

        foreach (var (action, extra) in new (ActionOutlook, LogEntry[])[]
        {
            (outlook.Alone, []),
            (outlook.Watered!, [new WaterGiven(s_today, 12)]),
            (outlook.CoverChanged!, [new CoverChanged(s_today, Cover.None)]),
        })
        {
            var accounts = Enumerable.Range(0, Members).Select(m => Alone(bed, m, [.. s_log, .. extra])).ToList();
            Assert.Equal(By(accounts, d => d.Event == AccountEvent.Pins), action.Pins.By);
            Assert.Equal(By(accounts, d => d.Event == AccountEvent.Harvest), action.Harvest.By);
            Assert.Equal(By(accounts, d => d.Moisture < d.WaterMark), action.Dry.By);
            Assert.Equal(By(accounts, d => d.Air < 0.15), action.Wet.By);
            Assert.Equal(
                accounts.Average(days => days.Take(WhatIf.Days).Count(d => d.Moisture < d.WaterMark)), action.DryDays, 12);
            if (bed.Species.Triggers.Frost is { } frost)
                Assert.Equal(By(accounts, d => d.FrostNights >= frost.Nights), action.Frost!.By);
            else
                Assert.Null(action.Frost);
        }
    }

    [Fact]
    public void Something_happens_in_these_futures_so_that_the_counts_say_something()
    {
        var outlook = Outlook(s_bed, new OutlookQuestion(12, Cover.None));

        Assert.InRange(outlook.Alone.Dry.Count, 1, Members);
        Assert.InRange(outlook.CoverChanged!.Pins.Count, 1, Members);
        Assert.NotEqual(outlook.Alone.Pins.By, outlook.CoverChanged.Pins.By);
    }

    [Fact]
    public void Futures_go_on_from_the_account_that_is_theirs()
    {
        // Two accounts of the past, one growing at half the pace; five futures from the one, two from the other.
        var slow = s_bed with { GrowthMultiplier = 0.5 };
        var (quick, late) = (Past(s_bed), Past(slow));
        var both = new BedState(2);
        both.StartFrom(quick);
        Merge(both, late);
        int[] lanes = [0, 0, 0, 0, 0, 1, 1];

        var outlook = new OutlookRun(Futures()).Of(s_bed, s_log, both, lanes, Catalogue, new OutlookQuestion());
        List<AccountDay>[] accounts = [.. Enumerable.Range(0, Members).Select(m => Alone(lanes[m] == 0 ? s_bed : slow, m, s_log))];

        Assert.Equal(By(accounts, d => d.Event == AccountEvent.Pins), outlook.Alone.Pins.By);
        Assert.NotEqual(outlook.Alone.Pins.By, Outlook(s_bed, new OutlookQuestion()).Alone.Pins.By);
    }

    [Fact]
    public void A_bed_kept_moist_is_filled_up_on_the_mornings_after_it_fell_below_its_mark()
    {
        var outlook = Outlook(s_bed, new OutlookQuestion(Water: true));

        Assert.Equal((Days + 6) / 7, outlook.Water.Count);
        Assert.Equal(Days, outlook.Water.Sum(week => week.Days));
        var mm = new double[outlook.Water.Count];
        var any = new bool[outlook.Water.Count, Members];
        for (var member = 0; member < Members; member++)
        {
            var log = new List<LogEntry>(s_log);
            for (var day = 0; day + 1 < Days; day++)
            {
                var then = Alone(s_bed, member, log)[day];
                if (then.Moisture >= then.WaterMark)
                    continue;
                var missing = (1 - then.Moisture) * then.AvailableStore;
                log.Add(new WaterGiven(then.Date.PlusDays(1), missing));
                mm[(day + 1) / 7] += missing / Members;
                any[(day + 1) / 7, member] = true;
            }
        }

        for (var week = 0; week < mm.Length; week++)
        {
            Assert.Equal(mm[week], outlook.Water[week].MeanMm, 9);
            Assert.Equal(Enumerable.Range(0, Members).Count(m => any[week, m]), outlook.Water[week].Futures);
        }

        Assert.True(mm.Sum() > 0);
    }

    [Fact]
    public void Ranges_are_those_of_the_futures()
    {
        var outlook = Outlook(s_bed, new OutlookQuestion(Fans: true));
        var accounts = Enumerable.Range(0, Members).Select(m => Alone(s_bed, m, s_log)).ToList();

        for (var day = 0; day < Days; day += 7)
        {
            // The median of seven is the fourth; ten per cent of the way through six steps is 0.6 of the first.
            var moistures = accounts.Select(a => a[day].Moisture).Order().ToArray();
            Assert.Equal(moistures[3], outlook.Fans!.Moisture.Middle[day], 12);
            Assert.Equal(moistures[0] + 0.6 * (moistures[1] - moistures[0]), outlook.Fans.Moisture.Low[day], 12);
            var temperatures = accounts.Select(a => a[day].BedTemperature).Order().ToArray();
            Assert.Equal(temperatures[5] + 0.4 * (temperatures[6] - temperatures[5]), outlook.Fans.BedTemperature.High[day], 12);
        }
    }

    [Fact]
    public void The_same_bed_twice_in_a_run_has_the_same_outlook()
    {
        var run = new OutlookRun(Futures());
        var past = Past(s_bed);
        var first = run.Of(s_bed, s_log, past, [], Catalogue, new OutlookQuestion(12, Cover.None, Water: true));
        run.Of(Laid("shiitake"), [], Past(Laid("shiitake"), []), [], Catalogue, new OutlookQuestion(5, Cover.Sheet, Water: true));
        var again = run.Of(s_bed, s_log, past, [], Catalogue, new OutlookQuestion(12, Cover.None, Water: true));

        Assert.Equal(first.Alone.Pins.By, again.Alone.Pins.By);
        Assert.Equal(first.Watered!.Dry.By, again.Watered!.Dry.By);
        Assert.Equal(first.Water, again.Water);
    }

    [Theory]
    [InlineData(Phase.Growing, 0, 1, 0)]
    [InlineData(Phase.Picking, 0, 1, 1)]
    [InlineData(Phase.Resting, 1, 1, 1)]
    [InlineData(Phase.Resting, 0, 0, 0)]
    [InlineData(Phase.Pinning, 0, 0, 0)]
    public void What_stands_unseen_in_a_future_is_there_to_be_found_today(Phase phase, int flushes, int pins, int harvest)
    {
        // One future of two runs ahead of an account that still waits for its first pins.
        var past = new BedState(2);
        past.StartFrom(Past(s_bed));
        (past.Phases[1], past.Flushes[1], past.Progress[1]) = (phase, flushes, 0);
        int[] lanes = [0, 0, 0, 0, 0, 0, 1];
        var awaiting = new OutlookQuestion { Awaited = new FlushAwaited(Pins: true, Harvest: true, Flushes: 0) };

        var outlook = new OutlookRun(Futures()).Of(s_bed, s_log, past, lanes, Catalogue, awaiting);
        Assert.Equal((pins, harvest), (outlook.Alone.Pins.By[0], outlook.Alone.Harvest.By[0]));

        var seen = new OutlookRun(Futures()).Of(s_bed, s_log, past, lanes, Catalogue, new OutlookQuestion());
        Assert.Equal((0, 0), (seen.Alone.Pins.By[0], seen.Alone.Harvest.By[0]));
    }

    [Fact]
    public void What_the_grower_saw_today_is_not_to_come_in_any_future()
    {
        var pins = new OutlookRun(Futures()).Of(s_bed, [.. s_log, new PinsSeen(s_today)], Past(s_bed), [], Catalogue, new OutlookQuestion());
        var picked = new OutlookRun(Futures()).Of(s_bed, [.. s_log, new Picked(s_today, 1)], Past(s_bed), [], Catalogue, new OutlookQuestion());

        Assert.Equal(0, pins.Alone.Pins.By[0]);
        Assert.Equal(0, picked.Alone.Harvest.By[0]);
    }

    [Fact]
    public void A_bed_of_tomorrow_has_no_outlook_today()
    {
        var bed = Laid("wine-cap") with { Inoculated = s_today.PlusDays(1) };

        var error = Assert.Throws<ArgumentException>(() => new OutlookRun(Futures()).Of(bed, [], Past(s_bed), [], Catalogue, new OutlookQuestion()));

        Assert.Contains("2013-07-21", error.Message, StringComparison.Ordinal);
    }

    private static Bed Laid(string species)
    {
        var kind = Catalogue.Species[species];
        return new Bed(kind, s_inoculated, [new Layer(Catalogue.Materials[kind.Materials[0]], 0.15, s_inoculated)]) { Shade = 0.5 };
    }

    private static BedOutlook Outlook(Bed bed, OutlookQuestion question) =>
        new OutlookRun(Futures()).Of(bed, s_log, Past(bed), [], Catalogue, question);

    private static BedState Past(Bed bed, LogEntry[]? log = null) => BedAccount.Run(
        bed, log ?? s_log, SiteForcing.Of(Cities.Seattle, Cities.SeattleLadder), Catalogue, s_today.PlusDays(-1)).End;

    /// <summary>Future m is the weather of 2013 from m weeks on.</summary>
    private static WeatherDay Weather(int member, int day) =>
        Cities.Seattle[Period.DaysBetween(Cities.Seattle[0].Date, s_today) + 7 * member + day] with { Date = s_today.PlusDays(day) };

    private static SiteForcing Futures()
    {
        var forcing = new SiteForcing(s_today, Days, Members, Cities.SeattleLadder.Latitude);
        for (var day = 0; day < Days; day++)
        {
            for (var member = 0; member < Members; member++)
                forcing.Set(day, member, Weather(member, day), Cities.SeattleLadder);
        }

        return forcing;
    }

    /// <summary>The account of one future alone, from today on.</summary>
    private static List<AccountDay> Alone(Bed bed, int member, IReadOnlyList<LogEntry> log)
    {
        var past = Cities.Seattle.TakeWhile(d => d.Date < s_today);
        var weather = past.Concat(Enumerable.Range(0, Days).Select(day => Weather(member, day))).ToList();
        var account = BedAccount.Run(bed, log, SiteForcing.Of(weather, Cities.SeattleLadder), Catalogue, weather[^1].Date);
        return [.. account.Days.Where(d => d.Date >= s_today)];
    }

    private static int[] By(IReadOnlyList<List<AccountDay>> accounts, Func<AccountDay, bool> happens) =>
        [.. Enumerable.Range(0, Days).Select(day => accounts.Count(account => account.Take(day + 1).Any(happens)))];

    private static void Merge(BedState both, BedState second)
    {
        var copy = new BedState(2);
        copy.StartFrom(second);
        both.SpawnRun[1] = copy.SpawnRun[1];
        both.Progress[1] = copy.Progress[1];
        both.Phases[1] = copy.Phases[1];
        both.GrowthMultiplier[1] = copy.GrowthMultiplier[1];
        both.FirstReady[1] = copy.FirstReady[1];
        both.PoorDays[1] = copy.PoorDays[1];
        both.Flushes[1] = copy.Flushes[1];
        both.FlushesOfFilling[1] = copy.FlushesOfFilling[1];
        both.RestsFromPicking[1] = copy.RestsFromPicking[1];
        both.FrostNights[1] = copy.FrostNights[1];
    }
}
