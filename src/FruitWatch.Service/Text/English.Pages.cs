using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string OwnName => "English";

    public override string SkipToContent => "Skip to content";

    public override string Navigation => "Main";

    public override string ToToday => "Today";

    public override string ToNotices => "Notices";

    public override string ToMail => "Mail";

    public override string FooterSafety => "A forecast never says that a mushroom is safe. Identify every mushroom with certainty before eating it.";

    public override string DemoTitle => "Demo";

    public override string DemoDay(LocalDate day) =>
        $"Demo with an invented cooperative. It is {Date(day)} {day.Year.ToString(CultureInfo.InvariantCulture)}.";

    public override string DemoStep(int mornings) => mornings switch { 1 => "Next morning", 7 => "Next week", _ => "Next month" };

    public override string TodayTitle(LocalDate today) => $"Today, {Date(today)}";

    public override string NoSitesYet => "There is no site yet. Make one through the web API.";

    public override string NoBedsYet => "There is no bed at this site yet.";

    public override string NothingToDoToday => "Nothing to do today.";

    public override string NothingToDoHere => "Nothing to do for this bed.";

    public override string ComingUp => "Coming up";

    public override string LastRound(LocalDateTime at, LocalDate today) => $"Last morning round: {When(at, today)}";

    public override string NoRoundYet => "No morning round yet";

    public override string When(LocalDateTime at, LocalDate today) =>
        at.Date == today ? $"today, {Clock(at)}" : $"{DateWithYear(at.Date, today)}, {Clock(at)}";

    public override string DateWithYear(LocalDate date, LocalDate today) =>
        date.Year == today.Year ? date.ToString("ddd d MMMM", Culture) : date.ToString("d MMMM uuuu", Culture);

    public override string WeatherAt(string site) => $"Weather at {site}";

    public override string StandsWithoutForecast => "No forecast: the beds stand as of the last known day.";

    public override string StaleForecast(int hours) => $"The forecast is {Number(hours)} hours old.";

    public override string ForecastIssued(string feed, LocalDateTime at, LocalDate today) =>
        feed.Length > 0 ? $"Forecast by {feed}, {When(at, today)}." : $"Forecast of {When(at, today)}.";

    public override string NameOf(Pages.Urgency urgency) => urgency switch
    {
        Pages.Urgency.Overdue => "Overdue",
        Pages.Urgency.Now => "Today",
        Pages.Urgency.Soon => "Soon",
        _ => "Later",
    };

    public override string NameOf(Pages.MoistureWord moisture) => moisture switch
    {
        Pages.MoistureWord.Dry => "dry",
        Pages.MoistureWord.Moist => "moist",
        _ => "wet",
    };

    public override string WaterShare(double wetBasis) => $"{Percent(wetBasis)} water";

    public override string ScoreTitle => "Score";

    public override string ScoreSaid(Phase phase, string? limit) => limit ?? phase switch
    {
        Phase.Ready or Phase.Pinning => "all suits pinning",
        Phase.Growing or Phase.Picking => "all suits the flush",
        _ => "the day would suit pinning",
    };

    public override string NextPins => "Next pins";

    public override string NextHarvest => "Harvest";

    public override string LastLogged => "Last logged";

    public override string NoneForecast => "not within the forecast";

    public override string Window(LocalDate from, LocalDate? until) =>
        until is { } last ? from == last ? Date(from) : $"{ShortDate(from)} to {ShortDate(last)}" : $"around {ShortDate(from)}";

    public override string CheckLookalikes(Species species) => $"{NameOf(species)}: before you eat any, check its lookalikes";

    public override string ProblemOf(AccountProblem problem) => problem switch
    {
        AccountProblem.NoWeather => "No account yet: nothing is known of the weather at this site.",
        AccountProblem.WeatherStartsLater => "No account: the known weather begins after the bed was made. Fetch the site's past weather.",
        AccountProblem.NotYetMade => "The bed is to be made after the end of the forecast.",
        _ => "No account of today: the known weather ends before.",
    };

    public override string BedMade(LocalDate on, double areaM2) =>
        $"{Area(areaM2)}, made on {ShortDate(on)} {on.Year.ToString(CultureInfo.InvariantCulture)}.";

    public override string LayerOf(Material material, double depth) => $"{NameOf(material)}, {Number(100 * depth)}\u00a0cm";

    public override string HowItStands(LocalDate today) => $"How it stands, {Date(today)}";

    public override string WaterFrom(double mark) => $"water below {Percent(mark)}";

    public override string FlushesSoFar => "Flushes so far";

    public override string Sureness(NoticeConfidence confidence) => $"How sure: {NameOf(confidence)}";

    public override string MailTitle => "Mail";

    public override string MailLead => "What was sent to whom, the last first.";

    public override string NoMailYet => "No mail has been written yet.";

    public override string To(string name, string address) => $"To {name} ({address})";

    public override string NameOf(MailState state) => state switch
    {
        MailState.Pending => "waiting",
        MailState.Sending => "being sent",
        MailState.Sent => "sent",
        MailState.Unconfirmed => "sent, not confirmed",
        MailState.Failed => "refused",
        _ => "too late",
    };

    public override string MomentUtc(Instant moment) =>
        $"{moment.InUtc().Date.ToString("d MMMM uuuu", Culture)}, {Clock(moment.InUtc().LocalDateTime)} UTC";

    public override string MailAsHtml => "With formatting";

    public override string MailAsText => "As plain text";

    public override string MailNoLongerKept => "What it said is no longer kept: that is forgotten after 90 days.";

    public override string Older => "Older ones";

    public override string NoticesTitle => "Notices";

    public override string NoticesLead => "All that was told, the last first, with what became of it.";

    public override string NoNotices => "There are none.";

    public override string FilterTitle => "Which notices";

    public override string AllOfThem => "all";

    public override string NameOf(NoticeState state) => state switch
    {
        NoticeState.Open => "open",
        NoticeState.Done => "done",
        NoticeState.Withdrawn => "withdrawn",
        _ => "lapsed",
    };

    public override string IssuedOn(LocalDate day) => $"told on {ShortDate(day)}";

    public override string ClosedOn(LocalDate day) => $"ended on {ShortDate(day)}";

    public override string NotFoundTitle => "Nothing is kept here";

    public override string NotFoundAdvice => "The address may be mistyped, or the bed may no longer be watched.";

    public override string RefusedTitle => "That could not be taken";

    public override string RefusedAdvice =>
        "Nothing was changed. The page may have been open for too long: go back, load it again, and send it once more.";

    public override string BrokenTitle => "Something broke";

    public override string BrokenAdvice => "Nothing that you had saved is lost. Try again; if it stays so, tell the operator this number:";

    public override string BackToToday => "To today's list";
}
