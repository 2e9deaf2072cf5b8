using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Learning;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>The outlooks of one replayed morning: futures that have pins by the end of each day, bed by bed.</summary>
/// <param name="Issued">The morning.</param>
/// <param name="RuleOfThumb">What the rule of thumb said of the week before.</param>
/// <param name="Beds">The beds, in their order.</param>
internal sealed record BacktestMorning(LocalDate Issued, bool? RuleOfThumb, IReadOnlyList<IssuedOutlook> Beds)
{
    private const int ForecastDraws = 11;
    private const int SoilMemory = 60; // days of weather before inoculation that the account starts from

    /// <summary>Issues the outlooks of a morning from what was known then.</summary>
    /// <param name="setting">The backtest.</param>
    /// <param name="day">Index of the morning into the weather; at least 7.</param>
    /// <param name="beds">Beds that were made before that day.</param>
    /// <param name="learning">The thread's own.</param>
    public static BacktestMorning Issue(BacktestSetting setting, int day, IReadOnlyList<TrueBed> beds, BedLearning learning)
    {
        var weather = setting.Weather;
        var today = weather[day].Date;
        var history = SiteHistory.WithoutTarget(weather, today);
        var draws = new Draws(setting.Seed).Stream(ForecastDraws, day);
        var futures = WeatherFutures.Make(new OutlookInputs
        {
            SiteKey = FormattableString.Invariant($"backtest|{setting.Seed}"),
            Today = today,
            Forecast = MadeForecast.Of(weather.Skip(day), history, setting.Catalogue.ForecastError, draws),
            History = history,
            Errors = setting.Catalogue.ForecastError,
            Ladder = setting.Ladder,
            Days = BacktestRun.OutlookDays,
        });
        var rule = Verification.RuleOfThumb.ExpectsPins([.. weather.Skip(day - 7).Take(7)]);
        if (futures is null)
            return new BacktestMorning(today, rule, []);

        // Ends yesterday: learning looks as far ahead as it is given weather.
        var first = Math.Max(0, beds.Min(bed => Period.DaysBetween(weather[0].Date, bed.Known.Inoculated)) - SoilMemory);
        var past = SiteForcing.Of([.. weather.Skip(first).Take(day - first)], setting.Ladder);
        var run = new OutlookRun(futures.Forcing);
        return new BacktestMorning(today, rule, [.. beds.Select(bed => Issue(setting, bed, past, today, learning, run))]);
    }

    private static IssuedOutlook Issue(
        BacktestSetting setting, TrueBed bed, SiteForcing past, LocalDate today, BedLearning learning, OutlookRun run)
    {
        var log = bed.LogBefore(today);
        var yesterday = today.PlusDays(-1);
        var learned = learning.Run(bed.Known, log, past, yesterday, setting.Seed + (ulong)bed.Number, run.Members);
        var middle = bed.Known with { EvaporationMultiplier = learned.Evaporation.P50, GrowthMultiplier = learned.Growth.P50 };
        var taught = Outlook(learned.End, [.. learned.Lanes], new OutlookQuestion(Water: true) { Awaited = Awaited(Account(middle)) });
        var account = Account(bed.Known);
        var untaught = Outlook(account.End, [], new OutlookQuestion { Awaited = Awaited(account) });
        return new IssuedOutlook(
            bed.Number, run.Members, [.. taught.Alone.Pins.By], [.. taught.KeptMoist!.Pins.By], [.. untaught.Alone.Pins.By]);

        BedAccount Account(Bed made) => BedAccount.Run(made, log, past, setting.Catalogue, yesterday);

        FlushAwaited Awaited(BedAccount account) => new BedMorning(account, today, [], log).Awaited;

        BedOutlook Outlook(BedState end, int[] lanes, OutlookQuestion question) =>
            run.Of(bed.Known, log, end, lanes, setting.Catalogue, question);
    }
}

/// <summary>A bed's outlook of pins on a morning.</summary>
/// <param name="Bed">Number of the bed.</param>
/// <param name="Members">Futures.</param>
/// <param name="Learned">Futures with pins by the end of each day, with what the log taught.</param>
/// <param name="KeptMoist">The same where the grower goes on watering as before.</param>
/// <param name="Unlearned">As <paramref name="Learned"/>, with the catalogue's multipliers.</param>
internal sealed record IssuedOutlook(int Bed, int Members, int[] Learned, int[] KeptMoist, int[] Unlearned);
