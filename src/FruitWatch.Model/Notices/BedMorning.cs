using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Outlooks;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>What a rule sees of a bed on the morning of a day: all before <see cref="Today"/> has been, today and after is forecast.</summary>
public sealed class BedMorning
{
    private readonly Dictionary<LocalDate, WeatherDay> weather;

    /// <summary>A morning at a bed.</summary>
    /// <param name="account">The bed's account with its log, from inoculation to the last day of the forecast.</param>
    /// <param name="today">The site's local day, from the day of inoculation on.</param>
    /// <param name="weather">The site's complete days, in any order, each value with where it came from.</param>
    /// <param name="log">The bed's log, in any order.</param>
    /// <exception cref="ArgumentOutOfRangeException">The bed is not inoculated yet.</exception>
    public BedMorning(BedAccount account, LocalDate today, IEnumerable<WeatherDay> weather, IEnumerable<LogEntry> log)
    {
        ArgumentNullException.ThrowIfNull(account);
        ArgumentNullException.ThrowIfNull(weather);
        ArgumentNullException.ThrowIfNull(log);
        if (today < account.Plan.Bed.Inoculated)
            throw new ArgumentOutOfRangeException(nameof(today), today, $"The bed is inoculated on {account.Plan.Bed.Inoculated}; before that it has no notices.");

        Account = account;
        Today = today;
        this.weather = weather.ToDictionary(d => d.Date);
        Log = [.. log.Where(e => e.Date <= today).OrderBy(e => e.Date).ThenBy(e => e.Time)];
        Phase = PhaseThisMorning();
    }

    /// <summary>The bed's account, today's log included.</summary>
    public BedAccount Account { get; }

    /// <summary>The site's local day.</summary>
    public LocalDate Today { get; }

    /// <summary>What was done and seen up to today, in order of time.</summary>
    public IReadOnlyList<LogEntry> Log { get; }

    /// <summary>Days since the forecast was fetched; 0 for this morning's. [d]</summary>
    public int ForecastAge { get; init; }

    /// <summary>
    /// The bed's outlook in all futures, with the bed watered and with its cover changed today; null where there is none, and the
    /// rules then go by the single forecast.
    /// </summary>
    public BedOutlook? Outlook { get; init; }

    /// <summary>The bed.</summary>
    public Bed Bed => Account.Plan.Bed;

    /// <summary>The bed at the end of yesterday; null on the day of inoculation, or where the account stopped before.</summary>
    public AccountDay? Now => Account.On(Today.PlusDays(-1));

    /// <summary>The phase that the bed wakes up in, or that today's log already puts it in.</summary>
    public Phase Phase { get; }

    /// <summary>What lies over the bed, today's log included.</summary>
    public Cover Cover => Account.Plan.CoverOn(Math.Min(Age(Today), Account.Plan.Days - 1));

    /// <summary>Whether the account reaches over today and tomorrow, so that there is something to say about what is to come.</summary>
    public bool HasForecast => Account.On(Today.PlusDays(1)) is not null;

    /// <summary>What of the flush that comes or stands has not been seen yet, by the account and the log.</summary>
    public FlushAwaited Awaited => new(
        Phase is Phase.SpawnRun or Phase.Ready or Phase.Pinning || (Phase is Phase.Growing or Phase.Picking && !LoggedOfFlush(e => e is PinsSeen or Picked)),
        Phase is Phase.SpawnRun or Phase.Ready or Phase.Pinning or Phase.Growing || (Phase == Phase.Picking && !LoggedOfFlush(e => e is Picked)),
        Now?.Flushes ?? 0);

    /// <summary>The last day of the account.</summary>
    public LocalDate LastDay => Account.Plan.Bed.Inoculated.PlusDays(Account.Days.Count - 1);

    /// <summary>The site's weather of a day, or null where it is not known.</summary>
    public WeatherDay? WeatherOn(LocalDate date) => weather.GetValueOrDefault(date);

    /// <summary>Watered today against left alone; null where that was not simulated.</summary>
    internal WhatIf? Watering(WhatCounts? counts = null) =>
        Outlook is { Watered: { } watered } outlook ? WhatIf.Of(counts ?? WhatIf.CountsIn(Phase), outlook, watered) : null;

    /// <summary>Cover changed today against left alone; null where that was not simulated.</summary>
    internal WhatIf? ChangingCover(WhatCounts? counts = null) =>
        Outlook is { CoverChanged: { } changed } outlook ? WhatIf.Of(counts ?? WhatIf.CountsIn(Phase), outlook, changed) : null;

    /// <summary>Days from inoculation to a day. [d]</summary>
    internal int Age(LocalDate date) => Period.DaysBetween(Bed.Inoculated, date);

    /// <summary>Days from today to a day. [d]</summary>
    internal int Lead(LocalDate date) => Period.DaysBetween(Today, date);

    /// <summary>The account of the days from today plus <paramref name="from"/> to today plus <paramref name="to"/>, as far as it reaches.</summary>
    internal IEnumerable<AccountDay> Ahead(int from, int to)
    {
        for (var lead = from; lead <= to; lead++)
        {
            if (Account.On(Today.PlusDays(lead)) is { } day)
                yield return day;
        }
    }

    /// <summary>The account at the end of a day, or of its last day where it does not reach so far.</summary>
    internal AccountDay AtOrLast(LocalDate date) => Account.On(date) ?? Account.Days[^1];

    /// <summary>Rain in the open over some days from today on. [mm]</summary>
    internal double RainAhead(int days)
    {
        var sum = 0.0;
        for (var lead = 0; lead < days; lead++)
            sum += WeatherOn(Today.PlusDays(lead))?.Rain ?? 0;
        return sum;
    }

    /// <summary>Lowest temperature at the bed's surface with no cover on it, by the account's own rule. [°C]</summary>
    internal double? BareGroundMin(LocalDate date)
    {
        if (WeatherOn(date) is not { Tmax: { } tmax, Tmin: { } tmin })
            return null;
        return tmin - (tmax - tmin >= 10 && Bed.Shade < 0.5 ? 3 : 1);
    }

    /// <summary>Whether something of a kind was logged on or after a day.</summary>
    internal bool Logged<T>(LocalDate since)
        where T : LogEntry => Log.Any(e => e is T && e.Date >= since);

    /// <summary>Whether something happened by the account from a day to yesterday, or by the log today.</summary>
    internal bool Happened(AccountEvent what, LocalDate since)
    {
        for (var date = LocalDate.Max(since, Bed.Inoculated); date < Today; date = date.PlusDays(1))
        {
            if (Account.On(date)?.Event == what)
                return true;
        }

        return since <= Today && HasStateEntryToday && Account.On(Today)?.Event == what;
    }

    /// <summary>First day from today on, on which something happens by the account.</summary>
    internal LocalDate? Next(AccountEvent what)
    {
        foreach (var day in Ahead(0, Lead(LastDay)))
        {
            if (day.Event == what)
                return day.Date;
        }

        return null;
    }

    /// <summary>Whether something was logged since the pins of the flush that stands.</summary>
    private bool LoggedOfFlush(Func<LogEntry, bool> what)
    {
        var pins = Account.Days.LastOrDefault(day => day.Date <= Today && day.Event == AccountEvent.Pins).Date;
        return Log.Any(e => e.Date >= pins && what(e));
    }

    private bool HasStateEntryToday => Log.Any(e => e.Date == Today && e is (PinsSeen or Picked or FlushOver or ToppedUp or BedSpent));

    private Phase PhaseThisMorning() =>
        HasStateEntryToday && Account.On(Today) is { } today ? today.Phase : Now?.Phase ?? (Age(Today) == 0 ? Phase.SpawnRun : Account.Days[^1].Phase);
}
