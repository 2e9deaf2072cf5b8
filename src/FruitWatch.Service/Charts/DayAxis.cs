using NodaTime;

namespace FruitWatch.Service.Charts;

/// <summary>Days from left to right, each in the middle of its own strip.</summary>
internal sealed class DayAxis(LocalDate from, LocalDate to, ChartSize size)
{
    private static readonly int[] s_steps = [1, 2, 7, 14];
    private static readonly int[] s_months = [1, 2, 3, 6, 12];

    public LocalDate From { get; } = from;

    public LocalDate To { get; } = to;

    public int Days { get; } = Period.DaysBetween(from, to) + 1;

    /// <summary>Width of a day. [px]</summary>
    public double Day => (size.Width - ChartSize.Left - size.Right) / Days;

    /// <summary>Left edge of a day. [px]</summary>
    public double Edge(LocalDate date) => ChartSize.Left + Period.DaysBetween(From, date) * Day;

    public double Middle(LocalDate date) => Edge(date) + Day / 2;

    public bool Holds(LocalDate date) => date >= From && date <= To;

    /// <summary>Days to be labelled: as many as there is room for, at even steps.</summary>
    public IEnumerable<LocalDate> Labelled()
    {
        var step = Array.Find(s_steps, days => Days / days <= size.DayLabels);
        if (step > 0)
        {
            for (var date = From; date <= To; date = date.PlusDays(step))
                yield return date;
            yield break;
        }

        var months = Array.Find(s_months, count => Days / (30.4 * count) <= size.DayLabels);
        for (var date = new LocalDate(From.Year, 1, 1); date <= To; date = date.PlusMonths(months > 0 ? months : 24))
        {
            if (date >= From)
                yield return date;
        }
    }
}
