using System.Text.Json;
using FruitWatch.Feeds;
using NodaTime;

namespace FruitWatch.Service.Weather;

/// <summary>How far into the past one request of a feed goes.</summary>
/// <param name="ByDays">The address names a first and a last day, so that any stretch of the past can be asked for.</param>
/// <param name="Back">The address says how many days back; otherwise the answer holds what it holds.</param>
/// <param name="UsualBack">Days back that the description asks for.</param>
internal sealed record FeedReach(bool ByDays, bool Back, int UsualBack)
{
    /// <summary>Days that one request may span; more make answers that no description is written for.</summary>
    public const int MostDays = 400;

    // What weather services that forecast are ready to tell of the past (Open-Meteo, past_days: 92).
    private const int MostBackOfForecast = 92;

    // Few steps, so that sites of one place ask for the same days and can share the answer.
    private static readonly int[] s_steps = [14, 31, MostBackOfForecast, 200, MostDays];

    /// <summary>The answer is a whole file, the same for every stretch of days.</summary>
    public bool WholeFile => !ByDays && !Back;

    public static FeedReach Of(FeedDescription description)
    {
        using var json = JsonDocument.Parse(description.Json);
        var request = json.RootElement.GetProperty("request");
        var url = request.GetProperty("url").GetString()!;
        var byDays = Holds(url, "start") && Holds(url, "end");
        var back = request.TryGetProperty("dates", out var dates) && dates.TryGetProperty("back", out var days) ? days.GetInt32() : 0;
        return new FeedReach(byDays, byDays || Holds(url, "start") || Holds(url, "back"), back);
    }

    /// <summary>The first day to ask for.</summary>
    /// <param name="wanted">The first day wanted.</param>
    /// <param name="today">The site's local day.</param>
    public LocalDate First(LocalDate wanted, LocalDate today)
    {
        if (WholeFile)
            return wanted;
        var most = ByDays ? MostDays : Math.Max(UsualBack, MostBackOfForecast);
        var days = Math.Max(Period.DaysBetween(wanted, today), Math.Min(UsualBack, s_steps[0]));
        var step = s_steps.FirstOrDefault(step => step >= days, MostDays);
        return today.PlusDays(-Math.Min(step, most));
    }

    private static bool Holds(string url, string placeholder) => url.Contains($"{{{placeholder}}}", StringComparison.Ordinal);
}
