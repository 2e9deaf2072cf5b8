using FruitWatch.Model.Account;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Digests;

/// <summary>Single lines about a site: its weather, its beds, and how a notice ended.</summary>
internal static class SiteLines
{
    private const int DaysAhead = 4;

    /// <summary>A score from which on no limit is worth naming.</summary>
    private const double GoodScore = 90;

    /// <summary>A bed that lacks moisture is below its mark; one that lacks air is well above it.</summary>
    private const double WetSide = 0.8;

    public static string Weather(WeatherDay? day, Words words) => words.Weather(
        day?.Tmin,
        day?.Tmax,
        day?.Rain,
        day is not null && (IsFilled(day.TmaxFrom) || IsFilled(day.TminFrom) || IsFilled(day.RainFrom)));

    public static LetterLines NextDays(DigestSite site, Words words) => new(
        words.NextDays,
        [
            .. site.Ahead.OrderBy(day => day.Date).Take(DaysAhead)
                .Select(day => new LetterLine(new LetterLink(Gist.Capital(words.DayInList(day.Date), words.Culture)), Weather(day, words))),
        ]);

    /// <summary>A bed in one line: phase, score with what holds it down, moisture.</summary>
    public static string State(DigestBed bed, Words words)
    {
        if (bed.State is not { } state)
            return words.NoAccount(bed.Problem);
        return string.Join("; ", words.PhaseOf(state), words.Score(state.Suitability, Limit(state, words)), words.MoistureOf(state.Moisture));
    }

    /// <summary>How a notice ended.</summary>
    public static string Closing(IssuedNotice notice, Words words) => NoticeRows.ClosingOf(notice) is { } why
        ? words.Closing(
            notice.State switch
            {
                NoticeState.Done => NoticeEnd.Done,
                NoticeState.Lapsed => NoticeEnd.Lapsed,
                _ => NoticeEnd.Withdrawn,
            },
            why)
        : "";

    private static string? Limit(AccountDay state, Words words) =>
        state.Suitability < GoodScore || state.Limit is LimitingFactor.Soak or LimitingFactor.Frost or LimitingFactor.Cooling
            ? words.NameOf(state.Limit, tooWet: state.Moisture > WetSide)
            : null;

    private static bool IsFilled(Provenance source) => source is Provenance.GapFilled or Provenance.Estimated;
}
