using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>
/// A site's observed past, ready to be asked: what is usual, how far the days stray from it, how often and how much it rains,
/// and which years can serve as a trace. Forecasts and filled gaps among the days given do not count.
/// </summary>
/// <remarks>Does not change once made; may be shared between threads.</remarks>
public sealed class SiteHistory
{
    private readonly UsualTemperature usual;
    private readonly SeasonRain rain;
    private readonly WeatherDay?[] complete;
    private readonly int[] filledBefore; // days filled or unknown among the first n
    private readonly int[] unknownBefore;
    private readonly DateInterval? leftOut;

    /// <summary>Takes the observed values of a site's days, in any order; of two entries for a day the later one.</summary>
    /// <param name="days">What is known of the past.</param>
    /// <param name="leftOut">
    /// Days that must not be known, first and last included: when an outlook of the past is made again, those that came after
    /// its issue. Neither the usual days, nor the spread, nor the rain, nor any trace uses them.
    /// </param>
    public SiteHistory(IEnumerable<WeatherDay> days, DateInterval? leftOut = null)
    {
        ArgumentNullException.ThrowIfNull(days);
        this.leftOut = leftOut;
        var observed = new Dictionary<LocalDate, WeatherDay>();
        foreach (var day in days)
            if (leftOut?.Contains(day.Date) != true && Observed(day) is { } seen)
                observed[day.Date] = seen;

        First = observed.Count == 0 ? default : observed.Keys.Min();
        Days = observed.Count == 0 ? 0 : Period.DaysBetween(First, observed.Keys.Max()) + 1;
        Climatology = new Climatology(observed.Values);
        usual = new UsualTemperature(First, Days, observed);
        rain = new SeasonRain(observed.Values);

        complete = new WeatherDay?[Days];
        filledBefore = new int[Days + 1];
        unknownBefore = new int[Days + 1];
        for (var i = 0; i < Days; i++)
        {
            var date = First.PlusDays(i);
            var day = observed.GetValueOrDefault(date);
            var whole = day is not null && IsComplete(day);
            var filled = whole ? day! : GapFilling.Fill(day ?? new WeatherDay(date, null, null, null), observed, Climatology);
            complete[i] = IsComplete(filled) ? filled : null;
            filledBefore[i + 1] = filledBefore[i] + (whole ? 0 : 1);
            unknownBefore[i + 1] = unknownBefore[i] + (complete[i] is null ? 1 : 0);
        }

        // The climatology works a usual day out when it is first asked; asked here, it only reads from now on.
        for (var date = new LocalDate(2000, 1, 1); Days > 0 && date.Year == 2000; date = date.PlusDays(1))
            Climatology.UsualDay(date);
    }

    /// <summary>Nothing is known.</summary>
    public static SiteHistory None { get; } = new([]);

    /// <summary>
    /// The history for making an outlook of the past again: without the eleven months from its issue on. What the year before
    /// and the year after have at the same season stays.
    /// </summary>
    /// <param name="days">What is known of the past.</param>
    /// <param name="issued">Day of issue of the outlook.</param>
    public static SiteHistory WithoutTarget(IEnumerable<WeatherDay> days, LocalDate issued) =>
        new(days, new DateInterval(issued, issued.PlusMonths(11).PlusDays(-1)));

    /// <summary>The first day of which anything was observed.</summary>
    public LocalDate First { get; }

    /// <summary>Days from the first to the last of which anything was observed; 0 where nothing is known.</summary>
    public int Days { get; }

    /// <summary>What is usual by the calendar, for filling gaps.</summary>
    public Climatology Climatology { get; }

    /// <summary>Usual highest temperature of a calendar day, ±7 days over the years; null with fewer than two years. [°C]</summary>
    public double? UsualTmax(LocalDate date) => usual.Tmax(date);

    /// <summary>Usual lowest temperature of a calendar day, ±7 days over the years; null with fewer than two years. [°C]</summary>
    public double? UsualTmin(LocalDate date) => usual.Tmin(date);

    /// <summary>
    /// How far the highest temperature strays from the usual day of the other years, or null where fewer than two years tell.
    /// [°C, standard deviation]
    /// </summary>
    /// <param name="month">1…12</param>
    public double? AnomalySdTmax(int month) => usual.SdTmax(month);

    /// <summary>
    /// How far the lowest temperature strays from the usual day of the other years, or null where fewer than two years tell.
    /// [°C, standard deviation]
    /// </summary>
    /// <param name="month">1…12</param>
    public double? AnomalySdTmin(int month) => usual.SdTmin(month);

    /// <summary>Share of wet days (at least 1 mm) in a month of the year; null where less than a month's days were observed. 0…1</summary>
    /// <param name="month">1…12</param>
    public double? WetShare(int month) => rain.WetShare(month);

    /// <summary>Rain of the wet days of a month and the months on either side of it, in order of date. [mm]</summary>
    /// <param name="month">1…12</param>
    public IReadOnlyList<double> WetDayAmounts(int month) => rain.Amounts(month);

    /// <summary>The past years that can serve as a trace from a calendar day on, unshifted.</summary>
    /// <param name="start">First day of the trace, in the year that is looked ahead to.</param>
    /// <param name="days">Length of the trace. [d], at least 1</param>
    public TraceYears YearsFrom(LocalDate start, int days)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(days, 1);
        var target = new DateInterval(start, start.PlusDays(days - 1));
        var found = Years.Select(year => (year, Use: Use(StartIn(start, year), days, target))).ToList();
        return new TraceYears(
            [.. found.Where(f => f.Use == TraceUse.Good).Select(f => f.year)],
            [.. found.Where(f => f.Use == TraceUse.Holes).Select(f => f.year)]);
    }

    internal IEnumerable<int> Years => Days == 0 ? [] : Enumerable.Range(First.Year, First.PlusDays(Days - 1).Year - First.Year + 1);

    /// <summary>The same calendar day in another year; 29 February becomes the 28th where there is none.</summary>
    internal static LocalDate StartIn(LocalDate start, int year) => new AnnualDate(start.Month, start.Day).InYear(year);

    /// <summary>A complete day; null where it could not be filled, or lies outside what was observed.</summary>
    internal WeatherDay? Day(LocalDate date)
    {
        var i = Days == 0 ? -1 : Period.DaysBetween(First, date);
        return i >= 0 && i < Days ? complete[i] : null;
    }

    /// <summary>Whether the days from one on can serve as a trace for a time looked ahead to.</summary>
    internal TraceUse Use(LocalDate from, int days, DateInterval target)
    {
        var span = new DateInterval(from, from.PlusDays(days - 1));
        var start = Days == 0 ? -1 : Period.DaysBetween(First, from);
        if (start < 0 || start + days > Days || span.Intersection(target) is not null
            || leftOut is not null && span.Intersection(leftOut) is not null)
            return TraceUse.Outside;

        var filled = filledBefore[start + days] - filledBefore[start];
        var unknown = unknownBefore[start + days] - unknownBefore[start];
        return unknown > 0 || filled > TraceYears.MostFilled * days ? TraceUse.Holes : TraceUse.Good;
    }

    private static WeatherDay? Observed(WeatherDay day)
    {
        var temperature = IsObserved(day.TmaxFrom) || IsObserved(day.TminFrom);
        if (!temperature && !IsObserved(day.RainFrom))
            return null;
        // Humidity, wind and sun say nothing of where they came from: they are taken to come with the temperatures.
        var bare = temperature ? day : new WeatherDay(day.Date, null, null, null);
        return bare with
        {
            Tmax = IsObserved(day.TmaxFrom) ? day.Tmax : null,
            Tmin = IsObserved(day.TminFrom) ? day.Tmin : null,
            Rain = IsObserved(day.RainFrom) ? day.Rain : null,
            RainFrom = day.RainFrom,
        };
    }

    private static bool IsObserved(Provenance from) => from is Provenance.Observed or Provenance.Gauge;

    private static bool IsComplete(WeatherDay day) => day is { Tmax: not null, Tmin: not null, Rain: not null };
}

/// <summary>Past years for a trace.</summary>
/// <param name="Usable">With at most a tenth of the trace's days filled.</param>
/// <param name="WithHoles">Not used: more than a tenth of the days missing, or a hole that nothing could fill.</param>
public sealed record TraceYears(IReadOnlyList<int> Usable, IReadOnlyList<int> WithHoles)
{
    internal const double MostFilled = 0.1;
}

/// <summary>Whether a stretch of the past can serve as a trace.</summary>
internal enum TraceUse : byte
{
    Good,
    Holes,

    /// <summary>Before or after what was observed, among the days left out, or the very time looked ahead to.</summary>
    Outside,
}
