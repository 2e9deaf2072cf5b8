using FruitWatch.Model.Account;
using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>Give no water: the layer holds so much of it that the mycelium lacks air, or much rain falls on a bed that is full.</summary>
/// <remarks>
/// Diffusion of oxygen falls with about the square of the air-filled porosity, and wood-rotting fungi slow down for want of it
/// (Scheffer 1986, Can. J. Bot. 64:1957). Only compost-like materials come so far by rain alone.
/// </remarks>
public sealed class HoldWaterRule() : NoticeRule(NoticeKind.HoldWater)
{
    /// <summary>Below this the account lets moisture slow growth; 0.20–0.30 is preferred. Derived, adjustable. [m³/m³]</summary>
    public const double AirMark = 0.15;

    /// <summary>An open notice holds until there is so much air. Chosen, so that it does not flap. [m³/m³]</summary>
    public const double KeptBelowAir = 0.17;

    /// <summary>Well above container capacity. Chosen. [relative moisture]</summary>
    public const double Soaked = 1.1;

    /// <summary>Much rain, over <see cref="RainDays"/>. Chosen. [mm]</summary>
    public const double MuchRain = 20;

    /// <summary>Days over which rain to come is added up, today included. [d]</summary>
    public const int RainDays = 3;

    private const double KeptSoaked = 1.05;
    private const double KeptRain = 15;
    private const int LongestLook = 6;

    /// <inheritdoc/>
    public override NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last) =>
        At(morning, AirMark, Soaked, MuchRain) ?? (open is null ? null : At(morning, KeptBelowAir, KeptSoaked, KeptRain));

    /// <inheritdoc/>
    public override (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open) =>
        morning.Now is { Air: < KeptBelowAir } or { Moisture: >= KeptSoaked }
            ? (NoticeEnd.Withdrawn, ClosingCode.ForecastChanged)
            : (NoticeEnd.Withdrawn, ClosingCode.Drained);

    /// <summary>How long it takes to drain moves with every forecast: never told again.</summary>
    public override bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now) => false;

    private NoticeDraft? At(BedMorning morning, double airMark, double soaked, double muchRain)
    {
        var rain = morning.RainAhead(RainDays);
        foreach (var day in morning.Ahead(-1, 1))
        {
            if (day.Air < airMark)
                return Draft(morning, day.Date, d => d.Air < airMark, NoticeReason.Of(
                    ReasonCode.AirLow,
                    (ReasonNumber.Air, day.Air),
                    (ReasonNumber.AirMark, AirMark),
                    (ReasonNumber.RainToCome, rain),
                    (ReasonNumber.Days, RainDays)));
        }

        foreach (var day in morning.Ahead(-1, 0))
        {
            if (day.Moisture > soaked && rain >= muchRain)
                return Draft(morning, day.Date, d => d.Moisture > soaked, NoticeReason.Of(
                    ReasonCode.SoakedAndRain,
                    (ReasonNumber.Moisture, day.Moisture),
                    (ReasonNumber.RainToCome, rain),
                    (ReasonNumber.Days, RainDays)));
        }

        return null;
    }

    private NoticeDraft Draft(BedMorning morning, LocalDate day, Func<AccountDay, bool> wet, NoticeReason reason)
    {
        var until = morning.Today;
        foreach (var ahead in morning.Ahead(0, LongestLook))
        {
            if (wet(ahead))
                until = ahead.Date;
        }

        return new NoticeDraft(Kind, morning.Today, until, Certainty.On(morning, day), reason);
    }
}
