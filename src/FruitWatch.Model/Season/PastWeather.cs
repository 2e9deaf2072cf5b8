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

    private readonly int[] missingBefore;
    private readonly int[] filledBefore;
    private readonly int[] knownBefore;

    private PastWeather(SiteForcing forcing, int days, bool[] present, bool[] filled)
    {
        Forcing = forcing;
        Days = days;
        missingBefore = new int[days + 1];
        filledBefore = new int[days + 1];
        knownBefore = new int[days + 1];
        Months = new byte[days];
        for (var day = 0; day < days; day++)
        {
            missingBefore[day + 1] = missingBefore[day] + (present[day] ? 0 : 1);
            filledBefore[day + 1] = filledBefore[day] + (filled[day] ? 1 : 0);
            knownBefore[day + 1] = present[day] ? knownBefore[day] + 1 : 0;
            Months[day] = (byte)forcing.First.PlusDays(day).Month;
        }
    }

    /// <summary>One series over all days; a day that could not be filled is blank in it and in no run.</summary>
    public SiteForcing Forcing { get; }

    /// <summary>Number of days; 0 where there is no weather.</summary>
    public int Days { get; }

    /// <summary>Month of each day. 1…12</summary>
    public byte[] Months { get; }

    public int FilledDays => filledBefore[Days];

    public LocalDate First => Forcing.First;

    public static PastWeather Of(IReadOnlyList<WeatherDay> history, EvaporationLadder ladder)
    {
        if (history.Count == 0)
            return new PastWeather(new SiteForcing(default, 1, 1, ladder.Latitude), 0, [], []);

        HistoryCheck.Refuse(history);
        WeatherDay[] known = [.. history.OrderBy(day => day.Date)];
        var (first, last) = (known[0].Date, known[^1].Date);
        var days = Period.DaysBetween(first, last) + 1;
        var forcing = new SiteForcing(first, days, 1, ladder.Latitude);
        var (present, filled) = (new bool[days], new bool[days]);
        var climatology = new Climatology(known);
        for (LocalDate? from = first; from is { } start;)
        {
            var part = GapFilling.Complete(known, start, last, climatology);
            foreach (var day in part.Days)
            {
                var i = Period.DaysBetween(first, day.Date);
                forcing.Set(i, 0, day, ladder);
                present[i] = true;
                filled[i] = IsFilled(day);
            }

            // Past a hole that nothing can fill, the weather goes on.
            from = part.StoppedAt is { } stop
                ? known.FirstOrDefault(day => day.Date > stop && day is { Tmax: not null, Tmin: not null, Rain: not null })?.Date
                : null;
        }

        return new PastWeather(forcing, days, present, filled);
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
        var missing = missingBefore[start + days] - missingBefore[start];
        var filled = filledBefore[start + days] - filledBefore[start];
        return missing == 0 && filled <= MostFilled * days ? null : new LeftOutRun(First.PlusDays(start), filled, missing);
    }

    /// <summary>Temperatures of bed and soil on the evening before a day, from the weather before it; its own where there is none.</summary>
    public (double Bed, double Soil) StartTemperatures(int start)
    {
        var mean = Forcing.Tmean[start * Forcing.Stride];
        return (MeanBefore(start, BedMemory) ?? mean, MeanBefore(start, SoilMemory) ?? mean);
    }

    private double? MeanBefore(int start, int count) => Forcing.MeanBefore(start, Math.Min(count, knownBefore[start]));

    private static bool IsFilled(WeatherDay day) =>
        day.TmaxFrom == Provenance.GapFilled || day.TminFrom == Provenance.GapFilled || day.RainFrom == Provenance.GapFilled;
}
