using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Learning;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Weather;
using NodaTime;
using BedRow = FruitWatch.Store.Entities.Bed;
using LogRow = FruitWatch.Store.Entities.LogEntry;
using NoticeRow = FruitWatch.Store.Entities.IssuedNotice;
using SiteRow = FruitWatch.Store.Entities.Site;

namespace FruitWatch.Service.Beds;

/// <summary>A site as it stands on a day: its weather, complete, and its beds with their accounts, all recomputed.</summary>
/// <param name="Row">What is kept of the site.</param>
/// <param name="Zone">Its time zone.</param>
/// <param name="Today">Its local day.</param>
/// <param name="Weather">Complete days, from before the oldest bed to the end of the forecast; empty where nothing is known.</param>
/// <param name="Forecast">The forecast in use, null where there is none.</param>
/// <param name="Beds">Its beds that are not retired.</param>
internal sealed record SiteBook(
    SiteRow Row, DateTimeZone Zone, LocalDate Today, IReadOnlyList<WeatherDay> Weather, ForecastInUse? Forecast, IReadOnlyList<BedBook> Beds)
{
    private readonly Lock gate = new();
    private SiteHistory? history;
    private WeatherFutures? futures;
    private bool futuresMade;

    /// <summary>What is known of the site's weather, with holes, in all years.</summary>
    public required IReadOnlyList<WeatherDay> Known { get; init; }

    /// <summary>The same, with where each value came from.</summary>
    public required MergedWeather Merged { get; init; }

    /// <summary>The members of the forecast in use; empty where it has none.</summary>
    public required IReadOnlyList<IReadOnlyList<WeatherDay>> Ensemble { get; init; }

    /// <summary>The site's rule for the reference evapotranspiration.</summary>
    public required EvaporationLadder Ladder { get; init; }

    /// <summary>The site's past years. Made when it is first asked for.</summary>
    public SiteHistory History
    {
        get
        {
            lock (gate)
                return history ??= new SiteHistory(Known);
        }
    }

    /// <summary>The site's many futures from today on; null where neither a forecast nor past years are known. Made when first asked for.</summary>
    public WeatherFutures? Futures
    {
        get
        {
            var past = History;
            lock (gate)
            {
                if (!futuresMade)
                {
                    futures = WeatherFutures.Make(new OutlookInputs
                    {
                        SiteKey = Row.Id.ToString(CultureInfo.InvariantCulture),
                        Today = Today,
                        // As it came, with its holes: the futures know better than a filled series how sure a day is.
                        Forecast = [.. Known.Where(day => day.Date >= Today.PlusDays(-1))],
                        ForecastAge = Forecast is { } inUse ? Math.Max(0, (int)inUse.Age.TotalDays) : 0,
                        Ensemble = Ensemble,
                        History = past,
                        Errors = BedCatalogue.BuiltIn.ForecastError,
                        Ladder = Ladder,
                    });
                    futuresMade = true;
                }

                return futures;
            }
        }
    }

    /// <summary>Last day of the forecast, or the last known one.</summary>
    public LocalDate? LastDay => Weather.Count > 0 ? Weather[^1].Date : null;

    /// <summary>Where the weather of a day came from, as it stands in <see cref="Weather"/>.</summary>
    public DaySources SourcesOf(LocalDate date)
    {
        var from = Merged.On(date);
        return On(date) is not { } day ? from : new DaySources(
            day.TmaxFrom == Provenance.GapFilled && day.TminFrom == Provenance.GapFilled ? DaySource.GapFilled : from.Temperature,
            day.RainFrom == Provenance.GapFilled ? DaySource.GapFilled : from.Rain);
    }

    /// <summary>Weather of a day.</summary>
    public WeatherDay? On(LocalDate date) => Weather.Count > 0 && date >= Weather[0].Date && date <= Weather[^1].Date
        ? Weather[Period.DaysBetween(Weather[0].Date, date)]
        : null;
}

/// <summary>The forecast that a site's outlook rests on.</summary>
/// <param name="Id">Of the forecast kept.</param>
/// <param name="FeedTitle">Who gave it.</param>
/// <param name="IssuedAt">When it was issued.</param>
/// <param name="Age">Since then.</param>
internal sealed record ForecastInUse(long Id, string FeedTitle, Instant IssuedAt, Duration Age)
{
    /// <summary>From here on the pages and mails say how old it is.</summary>
    public static readonly Duration StaleAfter = Duration.FromHours(30);

    public bool IsStale => Age > StaleAfter;
}

/// <summary>A bed as it stands: what is kept of it, and its account.</summary>
/// <param name="Row">What is kept.</param>
/// <param name="Bed">The same, as the model reads it.</param>
/// <param name="LogRows">Its log as kept, entries that were undone left out, oldest first.</param>
/// <param name="Log">The same, as the model reads it.</param>
/// <param name="Account">From inoculation to the end of the forecast; null where it cannot be run.</param>
/// <param name="Problem">Why not.</param>
/// <param name="Notices">Open notices.</param>
internal sealed record BedBook(
    BedRow Row,
    Bed Bed,
    IReadOnlyList<LogRow> LogRows,
    IReadOnlyList<LogEntry> Log,
    BedAccount? Account,
    AccountProblem Problem,
    IReadOnlyList<NoticeRow> Notices)
{
    /// <summary>What the log tells of how the bed differs from the catalogue; null where it has no account.</summary>
    public LearnedBed? Learned { get; init; }

    /// <summary>Where the bed stood at the end of yesterday, by multipliers; its futures go on from there. Null where it has no account.</summary>
    public BedState? Standing { get; init; }

    /// <summary>First day on or after a day on which something happens in the account.</summary>
    public LocalDate? Next(AccountEvent happening, LocalDate from)
    {
        foreach (var day in Account?.Days ?? [])
        {
            if (day.Date >= from && day.Event == happening)
                return day.Date;
        }

        return null;
    }
}

/// <summary>How a bed differs from the catalogue, as far as its log tells.</summary>
/// <param name="Evaporation">Multiplier on evaporation.</param>
/// <param name="Growth">Multiplier on the rates of growth.</param>
/// <param name="From">What of the log was used.</param>
/// <param name="LogDisagrees">Nothing that the model allows comes near the log.</param>
internal sealed record LearnedBed(LearnedMultiplier Evaporation, LearnedMultiplier Growth, LearnedFrom From, bool LogDisagrees)
{
    /// <summary>Nothing was observed yet.</summary>
    public bool IsPrior => From.Count == 0;

    public static LearnedBed Of(BedLearned learned) => new(learned.Evaporation, learned.Growth, learned.From, learned.LogDisagrees);
}

/// <summary>Why a bed has no account.</summary>
internal enum AccountProblem
{
    /// <summary>It has one.</summary>
    None,

    /// <summary>Nothing is known of the site's weather yet.</summary>
    NoWeather,

    /// <summary>The bed is older than the known weather, and there is no climatology to fill in from.</summary>
    WeatherStartsLater,

    /// <summary>It is to be made after the end of the forecast.</summary>
    NotYetMade,
}
