using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

// What the pages say beside what is said of a bed and its notices.
internal abstract partial class Words
{
    /// <summary>The language's name in itself.</summary>
    public abstract string OwnName { get; }

    public abstract string SkipToContent { get; }

    public abstract string Navigation { get; }

    public abstract string ToToday { get; }

    public abstract string ToNotices { get; }

    public abstract string ToMail { get; }

    public abstract string FooterSafety { get; }

    public abstract string DemoTitle { get; }

    /// <summary>An invented cooperative; the day that it has reached.</summary>
    public abstract string DemoDay(LocalDate day);

    public abstract string DemoStep(int mornings);

    public abstract string TodayTitle(LocalDate today);

    public abstract string NoSitesYet { get; }

    public abstract string NoBedsYet { get; }

    public abstract string NothingToDoToday { get; }

    public abstract string NothingToDoHere { get; }

    public abstract string ComingUp { get; }

    /// <summary>When the last morning round of a site was done.</summary>
    public abstract string LastRound(LocalDateTime at, LocalDate today);

    public abstract string NoRoundYet { get; }

    /// <summary>A moment by the site's clock.</summary>
    public abstract string When(LocalDateTime at, LocalDate today);

    /// <summary>A day, with its year where that is another one than today's.</summary>
    public abstract string DateWithYear(LocalDate date, LocalDate today);

    public abstract string WeatherAt(string site);

    public abstract string StandsWithoutForecast { get; }

    public abstract string StaleForecast(int hours);

    public abstract string ForecastIssued(string feed, LocalDateTime at, LocalDate today);

    /// <summary>How soon.</summary>
    public abstract string NameOf(Pages.Urgency urgency);

    public abstract string NameOf(Pages.MoistureWord moisture);

    /// <summary>Share of water by weight.</summary>
    public abstract string WaterShare(double wetBasis);

    public abstract string ScoreTitle { get; }

    /// <summary>Why the score is as it is. A bed that cannot pin now is not said to be about to.</summary>
    public abstract string ScoreSaid(Phase phase, string? limit);

    public abstract string NextPins { get; }

    public abstract string NextHarvest { get; }

    public abstract string LastLogged { get; }

    public abstract string NoneForecast { get; }

    /// <summary>When something is expected: from one day to another, or about a day.</summary>
    public abstract string Window(LocalDate from, LocalDate? until);

    /// <summary>Head of what must be said of eating.</summary>
    public abstract string CheckLookalikes(Species species);

    /// <summary>Why a bed has no account.</summary>
    public abstract string ProblemOf(AccountProblem problem);

    public abstract string BedMade(LocalDate on, double areaM2);

    /// <summary>A filling with its depth. [m]</summary>
    public abstract string LayerOf(Material material, double depth);

    public abstract string HowItStands(LocalDate today);

    /// <summary>The mark for watering, in a few words.</summary>
    public abstract string WaterFrom(double mark);

    public abstract string FlushesSoFar { get; }

    public abstract string Sureness(NoticeConfidence confidence);

    public abstract string MailTitle { get; }

    public abstract string MailLead { get; }

    public abstract string NoMailYet { get; }

    public abstract string To(string name, string address);

    public abstract string NameOf(MailState state);

    /// <summary>A moment that belongs to no site.</summary>
    public abstract string MomentUtc(Instant moment);

    public abstract string MailAsHtml { get; }

    public abstract string MailAsText { get; }

    /// <summary>What a mail said is forgotten after a time.</summary>
    public abstract string MailNoLongerKept { get; }

    public abstract string Older { get; }

    public abstract string NoticesTitle { get; }

    public abstract string NoticesLead { get; }

    public abstract string NoNotices { get; }

    public abstract string FilterTitle { get; }

    public abstract string AllOfThem { get; }

    public abstract string NameOf(NoticeState state);

    public abstract string IssuedOn(LocalDate day);

    public abstract string ClosedOn(LocalDate day);

    public abstract string NotFoundTitle { get; }

    public abstract string NotFoundAdvice { get; }

    public abstract string RefusedTitle { get; }

    public abstract string RefusedAdvice { get; }

    public abstract string BrokenTitle { get; }

    public abstract string BrokenAdvice { get; }

    public abstract string BackToToday { get; }

    /// <summary>A day as its weekday in short.</summary>
    public string WeekDay(LocalDate date) => date.ToString("ddd d", Culture);

    /// <summary>A temperature in whole degrees, where there is room for no more.</summary>
    public string Degrees(double celsius) => $"{BareTemperature(celsius)}°";

    /// <summary>Time of day.</summary>
    protected string Clock(LocalDateTime at) => at.TimeOfDay.ToString("HH:mm", Culture);
}
