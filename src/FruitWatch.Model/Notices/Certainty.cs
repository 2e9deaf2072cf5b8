using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>How sure a notice is that rests on the weather up to a day.</summary>
internal static class Certainty
{
    // Day-1 forecasts explain 80–90 % of the variance of temperature, days 5–7 about half (Stern and Davidson 2015,
    // QJRMS 141:2726): beyond four days a notice says "possible".
    private const int FirmLead = 1;
    private const int LikelyLead = 4;

    /// <summary>A hole in last week's weather makes today's moisture and temperature less sure. Derived, adjustable. [d]</summary>
    private const int PastThatMatters = 7;

    public static NoticeConfidence On(BedMorning morning, LocalDate day)
    {
        var lead = Math.Max(0, morning.Lead(day)) + morning.ForecastAge;
        if (IsPatched(morning, day))
            lead += LikelyLead - FirmLead;
        return lead <= FirmLead ? NoticeConfidence.Firm : lead <= LikelyLead ? NoticeConfidence.Likely : NoticeConfidence.Possible;
    }

    private static bool IsPatched(BedMorning morning, LocalDate day)
    {
        for (var date = morning.Today.PlusDays(-PastThatMatters); date <= day; date = date.PlusDays(1))
        {
            if (morning.WeatherOn(date) is { } weather
                && (IsPatch(weather.RainFrom) || IsPatch(weather.TmaxFrom) || IsPatch(weather.TminFrom)))
                return true;
        }

        return false;
    }

    private static bool IsPatch(Provenance from) => from is Provenance.GapFilled or Provenance.Unknown;
}
