using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>What a rule sees of a bed on the morning of a day: all before <see cref="Today"/> has been, today and after is forecast.</summary>
public sealed class BedMorning
{
    private readonly Dictionary<LocalDate, WeatherDay> weather;

    /// <summary>A morning at a bed.</summary>
    /// <param name="account">The bed's account with its log, from inoculation to the last day of the forecast.</param>
    /// <param name="today">The site's local day.</param>
    /// <param name="weather">The site's complete days, in any order, each value with where it came from.</param>
    /// <param name="log">The bed's log, in any order.</param>
    public BedMorning(BedAccount account, LocalDate today, IEnumerable<WeatherDay> weather, IEnumerable<LogEntry> log)
    {
        ArgumentNullException.ThrowIfNull(account);
        ArgumentNullException.ThrowIfNull(weather);
        ArgumentNullException.ThrowIfNull(log);
        if (today < account.Plan.Bed.Inoculated)
            throw new ArgumentOutOfRangeException(nameof(today), today, $"The bed is inoculated on {account.Plan.Bed.Inoculated}; before it has no notices.");

        Account = account;
        Today = today;
        this.weather = weather.ToDictionary(d => d.Date);
        Log = [.. log.Where(e => e.Date <= today).OrderBy(e => e.Date).ThenBy(e => e.Time)];
    }

    /// <summary>The bed's account, today's log included.</summary>
    public BedAccount Account { get; }

    /// <summary>The site's local day.</summary>
    public LocalDate Today { get; }

    /// <summary>What was done and seen up to today, in order of time.</summary>
    public IReadOnlyList<LogEntry> Log { get; }

    /// <summary>Days since the forecast was fetched; 0 for this morning's. [d]</summary>
    public int ForecastAge { get; init; }

    /// <summary>The bed.</summary>
    public Bed Bed => Account.Plan.Bed;

    /// <summary>The bed at the end of yesterday; null on the day of inoculation, or where the account stopped before.</summary>
    public AccountDay? Now => Account.On(Today.PlusDays(-1));

    /// <summary>The phase that the bed wakes up in.</summary>
    public Phase Phase => Now?.Phase ?? Phase.SpawnRun;

    /// <summary>The site's weather of a day, or null where it is not known.</summary>
    public WeatherDay? WeatherOn(LocalDate date) => weather.GetValueOrDefault(date);
}
