using System.Globalization;
using FruitWatch.Feeds.Forms;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Mapping;

/// <summary>What is looked at once the days are made.</summary>
internal static class DayChecks
{
    // °C: within this a minimum above the maximum is the rounding of two sources.
    private const double RoundingOfExtremes = 0.5;

    // mm in a day: from here on worth a look, up to the world record worth believing (1825 mm: WMO extremes archive).
    private const double UnusualRain = 300;
    private const double MostRain = 2000;

    /// <summary>The day without what cannot be true of it, or null where nothing is left.</summary>
    public static FeedDay? Believed(FeedDay day, NoteBook notes)
    {
        var place = day.Member is null ? Show(day.Date) : $"{Show(day.Date)}, member {day.Member}";
        if (day.Tmin?.Value > day.Tmax?.Value + RoundingOfExtremes)
        {
            notes.Add(FeedCodes.ValueInconsistent, "extremes", string.Create(CultureInfo.InvariantCulture,
                $"The minimum {day.Tmin!.Value:0.#} °C is above the maximum {day.Tmax!.Value:0.#} °C; both left unknown."), place);
            day = day with { Tmax = null, Tmin = null };
        }
        if (day.Rain?.Value > MostRain)
        {
            notes.Add(FeedCodes.ValueImplausible, "rain of a day", string.Create(CultureInfo.InvariantCulture,
                $"{day.Rain!.Value:0} mm in a day is beyond any record; left unknown."), place);
            day = day with { Rain = null };
        }
        else if (day.Rain?.Value > UnusualRain)
        {
            notes.Add(FeedCodes.ValueUnusual, "rain of a day", string.Create(CultureInfo.InvariantCulture,
                $"{day.Rain!.Value:0} mm in a day is rare; kept."), place);
        }
        return (day.Tmax ?? day.Tmin ?? day.Tmean ?? day.Rain ?? day.Humidity) is null ? null : day;
    }

    /// <exception cref="FeedException">There is nothing, or nothing that still matters.</exception>
    public static void Refuse(FeedDescription description, List<FeedDay> days, LocalDate today)
    {
        if (days.Count == 0)
            throw new FeedException(
                FeedCodes.DataEmpty,
                "The answer holds no usable value.",
                "the whole answer",
                "Look at what the feed gives for this place and these dates.");
        if (description.Provides != FeedProvides.History && days[^1].Date < today)
            throw new FeedException(
                FeedCodes.TimeStale,
                $"The forecast ends on {Show(days[^1].Date)}, before today, {Show(today)}.",
                Show(days[^1].Date),
                "The last good one is kept; the feed will be asked again.");
    }

    /// <summary>Notes the members that did not come, and says whether enough did.</summary>
    public static bool NoteMembers(FeedDescription description, FeedTable table, List<FeedDay> days, NoteBook notes)
    {
        var expected = description.Series.Max(series => series.Members?.All().Count() ?? 0);
        if (expected == 0)
            return false;
        var came = days.Select(day => day.Member).Distinct().Count();
        if (came < expected)
            notes.Add(
                FeedCodes.MissingMembers,
                "members",
                $"{came} of {expected} members came with values.",
                table.Series[0].Series.Locator.ToString());
        return came >= description.Expect.MinMembers;
    }

    public static void NoteGaps(List<FeedDay> days, NoteBook notes)
    {
        var dates = days.Select(day => day.Date).Distinct().ToList();
        for (var i = 1; i < dates.Count; i++)
        {
            if (Period.DaysBetween(dates[i - 1], dates[i]) is var step && step > 1)
                notes.Add(
                    FeedCodes.TimeGap,
                    "days",
                    $"No value between {Show(dates[i - 1])} and {Show(dates[i])}; those days stay unknown.",
                    Show(dates[i - 1].PlusDays(1)));
        }
    }

    private static string Show(LocalDate date) => LocalDatePattern.Iso.Format(date);
}
