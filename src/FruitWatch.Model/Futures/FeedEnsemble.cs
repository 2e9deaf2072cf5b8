using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>The members of a feed's ensemble from today on, complete, each to its own last day.</summary>
/// <param name="Members">The usable ones, in the feed's order.</param>
/// <param name="WithHoles">How many of them had missing days, which were filled.</param>
/// <param name="Filled">Days filled in all of them.</param>
internal sealed record FeedEnsemble(IReadOnlyList<IReadOnlyList<WeatherDay>> Members, int WithHoles, int Filled)
{
    public static FeedEnsemble Read(OutlookInputs inputs)
    {
        var members = new List<IReadOnlyList<WeatherDay>>();
        int withHoles = 0, filled = 0;
        foreach (var series in inputs.Ensemble)
        {
            var (days, holes) = Complete(series, inputs);
            if (days.Count == 0)
                continue;
            members.Add(days);
            withHoles += holes > 0 ? 1 : 0;
            filled += holes;
        }

        return new FeedEnsemble(members, withHoles, filled);
    }

    /// <summary>Short holes are filled; a member with a longer one, or with one that nothing fills, has no days here.</summary>
    private static (IReadOnlyList<WeatherDay> Days, int Holes) Complete(IReadOnlyList<WeatherDay> series, OutlookInputs inputs)
    {
        var known = ForecastSeries.ByDate(series);
        var last = known.Values.Where(IsComplete).Select(d => d.Date).Append(inputs.Today.PlusDays(-1)).Max();
        var end = LocalDate.Min(last, inputs.Today.PlusDays(inputs.Days - 1));
        var days = new List<WeatherDay>();
        int holes = 0, run = 0;
        for (var date = inputs.Today; date <= end; date = date.PlusDays(1))
        {
            var day = known.GetValueOrDefault(date) ?? new WeatherDay(date, null, null, null);
            if (IsComplete(day))
            {
                run = 0;
            }
            else
            {
                day = GapFilling.Fill(day, known, inputs.History.Climatology);
                holes++;
                if (++run > GapFilling.ShortGapDays || !IsComplete(day))
                    return ([], 0);
            }

            days.Add(day);
        }

        return (days, holes);
    }

    private static bool IsComplete(WeatherDay day) => day is { Tmax: not null, Tmin: not null, Rain: not null };
}
