using FruitWatch.Model.Account;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Season;

/// <summary>A site's past weather from its first to its last day, its holes filled, as the beds feel it.</summary>
internal sealed class PastWeather
{
    /// <summary>More filled days than this share and a run tells of the filling, not of the year.</summary>
    private const double MostFilled = 0.10;

    private const int BedMemory = 10; // days that warm or cool the bed before inoculation
    private const int SoilMemory = 60;

    private readonly int[] filledBefore;

    private PastWeather(SiteForcing forcing, IReadOnlyList<WeatherDay> days, LocalDate? stoppedAt)
    {
        Forcing = forcing;
        Days = days.Count;
        StoppedAt = stoppedAt;
        filledBefore = new int[Days + 1];
        Months = new byte[Days];
        for (var day = 0; day < Days; day++)
        {
            filledBefore[day + 1] = filledBefore[day] + (IsFilled(days[day]) ? 1 : 0);
            Months[day] = (byte)days[day].Date.Month;
        }
    }

    /// <summary>One series over all days.</summary>
    public SiteForcing Forcing { get; }

    /// <summary>Number of days; 0 where there is no weather.</summary>
    public int Days { get; }

    /// <summary>
    /// First day that nothing could fill, where there was one. What comes after it is of no use: that time of the year was never
    /// observed, and every run comes past it.
    /// </summary>
    public LocalDate? StoppedAt { get; }

    /// <summary>Month of each day. 1…12</summary>
    public byte[] Months { get; }

    public int FilledDays => filledBefore[Days];

    public LocalDate First => Forcing.First;

    public static PastWeather Of(IReadOnlyList<WeatherDay> history, EvaporationLadder ladder)
    {
        HistoryCheck.Refuse(history);
        if (history.Count == 0)
            return new PastWeather(new SiteForcing(default, 1, 1, ladder.Latitude), [], null);

        var known = history.OrderBy(day => day.Date).ToList();
        var (days, stoppedAt) = GapFilling.Complete(known, known[0].Date, known[^1].Date, new Climatology(known));
        var forcing = days.Count > 0 ? SiteForcing.Of(days, ladder) : new SiteForcing(known[0].Date, 1, 1, ladder.Latitude);
        return new PastWeather(forcing, days, stoppedAt);
    }

    /// <summary>Index of a day, or null where a run of some days from there does not fit into the weather.</summary>
    public int? IndexOf(LocalDate start, int days)
    {
        var index = Period.DaysBetween(First, start);
        return index >= 0 && index + days <= Days ? index : null;
    }

    /// <summary>The reason to leave out a run, or null where its weather is known well enough.</summary>
    public LeftOutRun? Hole(int start, int days)
    {
        var filled = filledBefore[start + days] - filledBefore[start];
        return filled <= MostFilled * days ? null : new LeftOutRun(First.PlusDays(start), filled);
    }

    /// <summary>Temperatures of bed and soil on the evening before a day, from the weather before it; its own where there is none.</summary>
    public (double Bed, double Soil) StartTemperatures(int start)
    {
        var mean = Forcing.Tmean[start * Forcing.Stride];
        return (Forcing.MeanBefore(start, BedMemory) ?? mean, Forcing.MeanBefore(start, SoilMemory) ?? mean);
    }

    private static bool IsFilled(WeatherDay day) =>
        day.TmaxFrom == Provenance.GapFilled || day.TminFrom == Provenance.GapFilled || day.RainFrom == Provenance.GapFilled;
}
