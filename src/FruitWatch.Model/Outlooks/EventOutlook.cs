using FruitWatch.Model.Futures;
using NodaTime;

namespace FruitWatch.Model.Outlooks;

/// <summary>When something first happens in the futures: the number of them in which it has, by each day.</summary>
public sealed class EventOutlook
{
    private readonly int[] by;

    /// <summary>An outlook from its counts.</summary>
    /// <param name="today">First day.</param>
    /// <param name="members">Number of futures.</param>
    /// <param name="by">Futures in which it has happened by the end of each day; never falling, at most <paramref name="members"/>.</param>
    public EventOutlook(LocalDate today, int members, int[] by)
    {
        ArgumentNullException.ThrowIfNull(by);
        ArgumentOutOfRangeException.ThrowIfLessThan(members, 1);
        Today = today;
        Members = members;
        this.by = by;
    }

    /// <summary>First day.</summary>
    public LocalDate Today { get; }

    /// <summary>Number of futures.</summary>
    public int Members { get; }

    /// <summary>Futures in which it has happened by the end of each day.</summary>
    public IReadOnlyList<int> By => by;

    /// <summary>Futures in which it has happened by the end of the last day.</summary>
    public int Count => by.Length == 0 ? 0 : by[^1];

    /// <summary>Futures in which it has happened by a day; those of the last day where the outlook does not reach so far.</summary>
    public int CountBy(LocalDate date)
    {
        var day = Period.DaysBetween(Today, date);
        return day < 0 || by.Length == 0 ? 0 : by[Math.Min(day, by.Length - 1)];
    }

    /// <summary>Chance that it has happened by a day, never 0 or 1: (k + ½)/(n + 1).</summary>
    public double ChanceBy(LocalDate date) => Chance.Of(CountBy(date), Members);

    /// <summary>The day by which it has happened in a share of the futures; null where the outlook ends before.</summary>
    /// <param name="share">0…1</param>
    public LocalDate? DateOf(double share)
    {
        var wanted = Math.Max(1, (int)Math.Ceiling(share * Members - 1e-9));
        var day = Array.FindIndex(by, count => count >= wanted);
        return day < 0 ? null : Today.PlusDays(day);
    }

    /// <summary>From the first day of each future; <see cref="Never"/> where it does not happen.</summary>
    internal static EventOutlook Of(LocalDate today, int days, ReadOnlySpan<int> firstDays)
    {
        var by = new int[days];
        foreach (var day in firstDays)
        {
            if (day != Never)
                by[day]++;
        }

        for (var day = 1; day < days; day++)
            by[day] += by[day - 1];
        return new EventOutlook(today, firstDays.Length, by);
    }

    internal const int Never = -1;
}
