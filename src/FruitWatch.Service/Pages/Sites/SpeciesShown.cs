using FruitWatch.Model.Season;
using FruitWatch.Service.Charts;
using FruitWatch.Service.Season;
using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Pages.Sites;

/// <summary>A species' year at a site, as the page shows it.</summary>
internal sealed record SpeciesShown(SpeciesSeason Season, LocalDate Today, Words Words)
{
    /// <summary>The best weeks as they come next, the best first; none that never brought a pick.</summary>
    public IReadOnlyList<ComingWeek> Best { get; } = [.. Season.BestWeeks.Select(week => ComingWeek.Of(week, Today))];

    public YearChart Weeks => new WeekStrip(Season, Today, Words);

    public YearChart Months => new MonthBars(Season, Words);

    /// <summary>Past beds tried, over all weeks and years.</summary>
    public int Beds => Season.Weeks.Sum(week => week.Years);

    /// <summary>Those without a pick within 12 months.</summary>
    public int Failed => Season.Weeks.Sum(week => week.Years - week.Picked);

    /// <summary>Those that had their first pick after the 12 months.</summary>
    public int Later => Season.Weeks.SelectMany(week => week.Runs).Count(run => !run.Picked && run.FirstPickDays is not null);

    /// <summary>Nothing stopped any bed but time.</summary>
    public bool IsSlow => Failures.All(failure => failure.Reason is NoPickReason.SpawnRunNotDone or NoPickReason.TooYoung or NoPickReason.OnItsWay);

    /// <summary>What stopped them, the most frequent first.</summary>
    public IEnumerable<(NoPickReason Reason, int Beds)> Failures => Season.Weeks.SelectMany(week => week.Failures)
        .GroupBy(failure => failure.Key, failure => failure.Value)
        .Select(group => (group.Key, group.Sum()))
        .OrderByDescending(failure => failure.Item2).ThenBy(failure => failure.Key);
}
