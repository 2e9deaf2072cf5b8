using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>
/// Past years as they follow on a forecast: each member goes on with the calendar days of one of them (Day 1985, J. Water
/// Resour. Plann. Manage. 111:157). Years are dealt evenly, in a drawn order; where they are few each is used with shifts.
/// </summary>
internal sealed class PastYears
{
    /// <summary>With so many years, five shifts of each give no member of the usual 64 a trace of its own.</summary>
    public const int EnoughYears = 13;

    private const double Fading = 0.7; // a day: the lag-1 correlation of daily departures, 0.6–0.75 (NOAA 2012–2015)

    private static readonly int[] s_shifts = [0, -4, 4, -7, 7];

    private readonly SiteHistory history;
    private readonly LocalDate start;
    private readonly IReadOnlyList<IReadOnlyList<LocalDate>> starts; // of each year's usable traces

    /// <param name="history">The site's.</param>
    /// <param name="start">First day after the shortest member's forecast.</param>
    /// <param name="end">Last day of the outlook.</param>
    /// <param name="today">Day of issue: no trace may touch what is looked ahead to from it.</param>
    /// <param name="draws">For the order.</param>
    public PastYears(SiteHistory history, LocalDate start, LocalDate end, LocalDate today, Draws draws)
    {
        this.history = history;
        this.start = start;
        var days = Period.DaysBetween(start, end) + 1;
        var target = new DateInterval(today, end);
        TraceUse Use(int year, int shift) => history.Use(SiteHistory.StartIn(start, year).PlusDays(shift), days, target);

        WithHoles = [.. history.Years.Where(year => Use(year, 0) == TraceUse.Holes)];
        var usable = history.Years.Where(year => Use(year, 0) == TraceUse.Good).ToList();
        int[] shifts = usable.Count < EnoughYears ? s_shifts : [0];
        Years = usable;
        starts =
        [
            .. draws.Shuffled(usable).Select(year => draws.Shuffled(shifts.Where(shift => Use(year, shift) == TraceUse.Good)
                .Select(shift => SiteHistory.StartIn(start, year).PlusDays(shift)))),
        ];
    }

    /// <summary>The years used.</summary>
    public IReadOnlyList<int> Years { get; }

    /// <summary>Years not used for their holes.</summary>
    public IReadOnlyList<int> WithHoles { get; }

    /// <summary>Days of one member after its forecast, up to the end of the outlook.</summary>
    /// <param name="member">From 0.</param>
    /// <param name="last">Its last forecast day; null where it has none.</param>
    /// <param name="from">Its first day without forecast.</param>
    /// <param name="end">Last day of the outlook.</param>
    public IEnumerable<WeatherDay> After(int member, WeatherDay? last, LocalDate from, LocalDate end)
    {
        var traces = starts[member % starts.Count];
        var trace = traces[member / starts.Count % traces.Count];
        var warmer = last is null ? 0 : last.Tmax - history.UsualTmax(last.Date) ?? 0;
        var warmerNight = last is null ? 0 : last.Tmin - history.UsualTmin(last.Date) ?? 0;
        for (var date = from; date <= end; date = date.PlusDays(1))
        {
            warmer *= Fading;
            warmerNight *= Fading;
            var past = history.Day(trace.PlusDays(Period.DaysBetween(start, date)))!;
            var tmax = past.Tmax!.Value + warmer;
            var tmin = past.Tmin!.Value + warmerNight;
            yield return past with { Date = date, Tmax = Math.Max(tmax, tmin), Tmin = Math.Min(tmax, tmin) };
        }
    }
}
