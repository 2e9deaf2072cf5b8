using FruitWatch.Model.Season;
using NodaTime;

namespace FruitWatch.Service.Season;

/// <summary>A week of a plan as it comes next, seen from a day.</summary>
/// <param name="Week">The week.</param>
/// <param name="Start">Its next first day, that day itself among them.</param>
internal sealed record ComingWeek(StartWeek Week, LocalDate Start)
{
    public static ComingWeek Of(StartWeek week, LocalDate today) =>
        new(week, week.StartIn(today.Year) is var start && start >= today ? start : week.StartIn(today.Year + 1));

    /// <summary>First and last of the days on which past years, moved to this start, brought the first pick within 12 months; null for none.</summary>
    public (LocalDate First, LocalDate Last)? Picks
    {
        get
        {
            var days = Week.Runs.Where(run => run.Picked).Select(run => run.FirstPickDays!.Value).ToList();
            return days.Count == 0 ? null : (Start.PlusDays(days.Min()), Start.PlusDays(days.Max()));
        }
    }
}
