using FruitWatch.Model.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>One day of one future.</summary>
/// <param name="Date">The site's local day.</param>
/// <param name="Tmax">[°C]</param>
/// <param name="Tmin">[°C], at most <paramref name="Tmax"/></param>
/// <param name="Rain">[mm]</param>
public readonly record struct FutureDay(LocalDate Date, double Tmax, double Tmin, double Rain);

/// <summary>
/// The many weather futures of a site, from today to the end of the outlook: the feed's ensemble or its dressed forecast, then
/// past years. Every member is as likely as every other.
/// </summary>
public sealed class WeatherFutures
{
    private const int TemperatureDraws = 1;
    private const int RainDraws = 2;
    private const int YearDraws = 3;

    private WeatherFutures(SiteForcing forcing) => Forcing = forcing;

    /// <summary>What the beds of the site feel: first day today, one future for every member.</summary>
    public SiteForcing Forcing { get; }

    /// <summary>Number of members.</summary>
    public int Members => Forcing.Futures;

    /// <summary>The last day that any member takes from the feed; the day before today where there is no forecast.</summary>
    public required LocalDate LastForecastDay { get; init; }

    /// <summary>The last day.</summary>
    public LocalDate LastDay => Forcing.End.PlusDays(-1);

    /// <summary>What the first days come from.</summary>
    public required FutureSource Source { get; init; }

    /// <summary>The past years that the members go on with beyond the forecast, each in as many members as every other, give or take one.</summary>
    public required IReadOnlyList<int> Years { get; init; }

    /// <summary>What a reader should know.</summary>
    public required IReadOnlyList<FutureNote> Notes { get; init; }

    /// <summary>Whether the outlook ends with the forecast, for want of past years.</summary>
    public required bool IsShort { get; init; }

    /// <summary>One day of one member.</summary>
    /// <param name="member">From 0.</param>
    /// <param name="day">Days after today, from 0.</param>
    public FutureDay Of(int member, int day)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(member);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(member, Members);
        ArgumentOutOfRangeException.ThrowIfNegative(day);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(day, Forcing.Days);
        var i = day * Forcing.Stride + member;
        return new FutureDay(Forcing.First.PlusDays(day), Forcing.Tmax[i], Forcing.Tmin[i], Forcing.Rain[i]);
    }

    /// <summary>Makes the futures of a site. The same inputs give the same futures.</summary>
    /// <returns>Null where nothing can be said: neither a forecast that reaches today nor two past years.</returns>
    /// <exception cref="ArgumentException">A series has a day twice.</exception>
    public static WeatherFutures? Make(OutlookInputs inputs)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentOutOfRangeException.ThrowIfLessThan(inputs.Days, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(inputs.Members, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(inputs.ForecastAge);

        var draws = Draws.For(inputs.SiteKey, inputs.Today);
        var notes = new List<FutureNote>();
        var (source, heads) = Heads(inputs, draws, notes);
        var shortest = heads.Min(h => h.Count);
        var days = inputs.Days;
        PastYears? past = null;
        if (shortest < days)
        {
            past = new PastYears(
                inputs.History, inputs.Today.PlusDays(shortest), inputs.Today.PlusDays(days - 1), inputs.Today, draws.Stream(YearDraws));
            NoteYears(past, notes);
            if (past.Years.Count < 2)
                (past, days) = (null, shortest);
        }

        if (days == 0)
            return null;

        var forcing = new SiteForcing(inputs.Today, days, heads.Count, inputs.Ladder.Latitude);
        for (var member = 0; member < heads.Count; member++)
            Set(forcing, member, heads[member], past, inputs);

        return new WeatherFutures(forcing)
        {
            LastForecastDay = inputs.Today.PlusDays(Math.Min(days, heads.Max(h => h.Count)) - 1),
            Source = source,
            Years = past?.Years ?? [],
            Notes = notes,
            IsShort = days < inputs.Days,
        };
    }

    private static void Set(
        SiteForcing forcing, int member, IReadOnlyList<WeatherDay> head, PastYears? past, OutlookInputs inputs)
    {
        var day = 0;
        for (; day < head.Count && day < forcing.Days; day++)
            forcing.Set(day, member, head[day], inputs.Ladder);
        if (past is null)
            return;
        var last = head.Count == 0 ? null : head[^1];
        foreach (var later in past.After(member, last, inputs.Today.PlusDays(head.Count), forcing.End.PlusDays(-1)))
            forcing.Set(day++, member, later, inputs.Ladder);
    }

    /// <summary>The members' days that come from the feed; without a forecast all are empty.</summary>
    private static (FutureSource Source, IReadOnlyList<IReadOnlyList<WeatherDay>> Heads) Heads(
        OutlookInputs inputs, Draws draws, List<FutureNote> notes)
    {
        if (inputs.Ensemble.Count > 0 && OfEnsemble(inputs, notes) is { } ensemble)
            return (FutureSource.Ensemble, ensemble);

        var series = Series(inputs);
        if (series.CutAt is { } hole)
            notes.Add(new FutureNote(FutureNoteCode.ForecastCutShort, [], hole));
        if (series.Filled > 0)
            notes.Add(FutureNote.Of(FutureNoteCode.ForecastDaysMissing, series.Filled));
        if (series.Days.Count == 0)
        {
            notes.Add(FutureNote.Of(FutureNoteCode.NoForecast));
            return (FutureSource.PastYears, Enumerable.Repeat<IReadOnlyList<WeatherDay>>([], inputs.Members).ToList());
        }

        var dressed = new DressedForecast(series, inputs.History, inputs.Errors, inputs.ForecastAge);
        return (FutureSource.Dressed,
        [
            .. Enumerable.Range(0, inputs.Members).Select(member =>
                dressed.Member(draws.Stream(TemperatureDraws, member), draws.Stream(RainDraws, member))),
        ]);
    }

    /// <summary>The forecast, or the mean of an ensemble that cannot stand for itself.</summary>
    private static ForecastSeries Series(OutlookInputs inputs)
    {
        var mean = ForecastSeries.Read(EnsembleMean.Of(inputs.Ensemble), inputs.Today, inputs.Days, inputs.History.Climatology);
        return mean.Days.Count > 0
            ? mean
            : ForecastSeries.Read(inputs.Forecast, inputs.Today, inputs.Days, inputs.History.Climatology);
    }

    /// <summary>Every member of the feed as many times as every other; null where too few are usable.</summary>
    private static List<IReadOnlyList<WeatherDay>>? OfEnsemble(OutlookInputs inputs, List<FutureNote> notes)
    {
        var feed = FeedEnsemble.Read(inputs);
        var given = inputs.Ensemble.Count;
        if (feed.Members.Count < 2)
        {
            notes.Add(FutureNote.Of(FutureNoteCode.TooFewMembers, feed.Members.Count, given));
            return null;
        }

        if (feed.Members.Count < given)
            notes.Add(FutureNote.Of(FutureNoteCode.MembersLeftOut, given - feed.Members.Count, given));
        if (feed.Filled > 0)
            notes.Add(FutureNote.Of(FutureNoteCode.MemberDaysMissing, feed.WithHoles, feed.Filled));
        var (shortest, longest) = (feed.Members.Min(m => m.Count), feed.Members.Max(m => m.Count));
        if (shortest < longest)
            notes.Add(FutureNote.Of(FutureNoteCode.MembersUnequal, shortest, longest));

        var copies = Math.Max(1, (int)Math.Round((double)inputs.Members / feed.Members.Count, MidpointRounding.AwayFromZero));
        // Copies lie side by side: years are dealt in turn, so that copies of a member go on with different years.
        return [.. feed.Members.SelectMany(member => Enumerable.Repeat(member, copies))];
    }

    private static void NoteYears(PastYears past, List<FutureNote> notes)
    {
        if (past.WithHoles.Count > 0)
            notes.Add(FutureNote.Of(FutureNoteCode.HistoryHoles, [.. past.WithHoles]));
        if (past.Years.Count < 2)
            notes.Add(FutureNote.Of(FutureNoteCode.HistoryTooShort, past.Years.Count));
        else if (past.Years.Count < PastYears.EnoughYears)
            notes.Add(FutureNote.Of(FutureNoteCode.FewYears, past.Years.Count));
    }
}
