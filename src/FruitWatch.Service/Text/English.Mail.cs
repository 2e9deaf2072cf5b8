using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Digests;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    /// <inheritdoc/>
    public override string Gist(NoticeDraft notice, string beds, LocalDate today)
    {
        var when = notice.Deadline <= today ? " today" : "";
        return notice switch
        {
            { Kind: NoticeKind.Water } => $"water {beds}{when}",
            { Kind: NoticeKind.HoldWater } => $"no water for {beds}",
            { Kind: NoticeKind.CoverOn } => $"cover {beds}{when}",
            { Kind: NoticeKind.CoverOff } => $"uncover {beds}{when}",
            { Reason.Code: ReasonCode.FrostTriggers } => $"good frost for {beds}",
            { Kind: NoticeKind.FrostAhead } => $"frost threatens {beds}",
            { Kind: NoticeKind.HeatAhead } => $"shade {beds}{when}: heat",
            { Kind: NoticeKind.StormAhead } => $"hold down the cover of {beds}{when}: storm",
            { Kind: NoticeKind.ExpectPins } => $"pins soon in {beds}",
            { Reason.Code: ReasonCode.FlushReady } => $"pick {beds}",
            { Kind: NoticeKind.ExpectHarvest } => $"harvest soon in {beds}",
            { Kind: NoticeKind.WeeklyCheck } => $"check {beds}",
            { Kind: NoticeKind.YearlyFeeding } => $"feed {beds}",
            { Kind: NoticeKind.Spent } => $"{beds} spent",
            _ => throw new ArgumentOutOfRangeException(nameof(notice), notice.Kind, null),
        };
    }

    /// <inheritdoc/>
    public override string AndMore(string bed, int more) => $"{bed} and {Number(more)} more";

    /// <inheritdoc/>
    public override string More(int count) => $"{Number(count)} more";

    /// <inheritdoc/>
    public override string NoLongerNeededGist(NoticeKind kind, string bed) => $"no longer needed: {NameOf(kind).ToLower(Culture)} ({bed})";

    /// <inheritdoc/>
    public override string NothingToDo => "nothing to do today";

    /// <inheritdoc/>
    public override string NothingNew(int open) => $"nothing new today; {Number(open)} still open";

    /// <inheritdoc/>
    public override string BedsWatched(int beds) => $"{Beds(beds)} watched";

    /// <inheritdoc/>
    public override string NothingKnown => "no weather yet, so no word on your beds";

    /// <inheritdoc/>
    public override string ForecastIsOld(Duration age) => $"the forecast is {Age(age)} old";

    /// <inheritdoc/>
    public override string OldForecast(Duration age, string feed, LocalDateTime since) =>
        $"The forecast is {Age(age)} old, because {(feed.Length > 0 ? feed : "the feed")} has given no newer one since "
        + $"{Date(since.Date)}, {since.ToString("HH:mm", Culture)}. Look at the sky as well before you act on this.";

    /// <inheritdoc/>
    public override string NoForecastGist => "no forecast for your beds";

    /// <inheritdoc/>
    public override string NoForecast =>
        "There is no forecast for this site, so nothing here looks ahead. Look at the sky, and ask your coordinator about the weather feed.";

    /// <inheritdoc/>
    public override string Greeting(string name, bool late) => late ? $"Hello, {name}." : $"Good morning, {name}.";

    /// <inheritdoc/>
    public override string ComesLate => "Today's list comes later than it should.";

    /// <inheritdoc/>
    public override string Counts(int toDo, int coming, int open, int noLongerNeeded, bool known)
    {
        var counts = new List<string>();
        if (toDo > 0)
            counts.Add($"{Number(toDo)} to do");
        if (coming > 0)
            counts.Add($"{Number(coming)} to expect");
        if (open > 0)
            counts.Add($"{Number(open)} still open");
        if (noLongerNeeded > 0)
            counts.Add($"{Number(noLongerNeeded)} no longer needed");
        return (toDo == 0 ? (known ? "Nothing new to do today" : "Nothing new to do, as far as is known") + (counts.Count > 0 ? ": " : "") : "") + List(counts) + ".";
    }

    /// <inheritdoc/>
    public override string NothingHere(bool known) => known ? "Nothing new to do here today." : "Nothing new to do here, as far as is known.";

    /// <inheritdoc/>
    public override string ToDo => "To do";

    /// <inheritdoc/>
    public override string Coming => "Coming";

    /// <inheritdoc/>
    public override string StillOpen => "Still open";

    /// <inheritdoc/>
    public override string NoLongerNeeded => "No longer needed";

    /// <inheritdoc/>
    public override string BedByBed => "Bed by bed";

    /// <inheritdoc/>
    public override string NextDays => "The next days";

    /// <inheritdoc/>
    public override string BeforeEating => "Before you eat any";

    /// <inheritdoc/>
    public override string NameOf(Urgency urgency) => urgency switch
    {
        Urgency.AtOnce => "Urgent",
        Urgency.Today => "Today",
        Urgency.Soon => "Soon",
        Urgency.Ahead => "Ahead",
        _ => throw new ArgumentOutOfRangeException(nameof(urgency), urgency, null),
    };

    /// <inheritdoc/>
    public override string Changed => "changed";

    /// <inheritdoc/>
    public override string HowSure(NoticeConfidence confidence) => $"how sure: {NameOf(confidence)}";

    /// <inheritdoc/>
    public override string WindowEnds(LocalDate day) => $"The window ends on {Date(day)}";

    /// <inheritdoc/>
    public override string ToldOn(LocalDate day) => $"told on {ShortDate(day)}";

    /// <inheritdoc/>
    public override string EatingCautionInShort(Species species) =>
        $"No forecast says that a mushroom is safe. Identify every one with certainty, check for {Lookalikes(species)}, take a "
        + "spore print, and ask a local expert when in doubt. Cook before eating, and try a small portion first.";

    /// <inheritdoc/>
    public override string Weather(double? tmin, double? tmax, double? rain, bool estimated) =>
        (tmin, tmax) switch
        {
            ({ } low, { } high) => $"{BareTemperature(low)} to {Temperature(high)}",
            (null, { } high) => $"up to {Temperature(high)}",
            ({ } low, null) => $"down to {Temperature(low)}",
            _ => "temperature unknown",
        }
        + (rain is { } mm ? mm < 0.05 ? ", no rain" : $", {WaterDepth(mm)} of rain" : ", rain unknown")
        + (estimated ? " (estimated)" : "");

    /// <inheritdoc/>
    public override string Today => "Today";

    /// <inheritdoc/>
    public override string DayInList(LocalDate date) => date.ToString("ddd d", Culture);

    /// <inheritdoc/>
    public override string PhaseOf(AccountDay state) => state.Phase switch
    {
        Phase.SpawnRun => $"{NameOf(state.Phase)}, {Percent(state.SpawnRun)} done",
        Phase.Ready or Phase.Spent => NameOf(state.Phase),
        _ => $"{NameOf(state.Phase)}, {Percent(state.Progress)} through",
    };

    /// <inheritdoc/>
    public override string Score(double score, string? limit) => $"score {Number(score)} of 100{(limit is null ? "" : $", {limit}")}";

    /// <inheritdoc/>
    public override string MoistureOf(double moisture) => $"moisture {Percent(moisture)}";

    /// <inheritdoc/>
    public override string NoAccount(AccountProblem problem) => problem switch
    {
        AccountProblem.NoWeather => "no word yet: nothing is known of the site's weather",
        AccountProblem.WeatherStartsLater => "no word: the bed is older than the known weather; its feed has to give earlier days",
        AccountProblem.NotYetMade => "not yet made",
        _ => "no word today",
    };

    /// <inheritdoc/>
    public override string BedsLeftOut => "The list of all beds is too long for a mail; it is on the page.";

    /// <inheritdoc/>
    public override string OpenThePage => "Open today's page";

    /// <inheritdoc/>
    public override string WhyYouGetThis(string cooperative, IReadOnlyList<string> sites) =>
        $"You get this because {cooperative} put you down for {List(sites)}. One such message a day at most.";

    /// <inheritdoc/>
    public override string RepliesAreNotRead(string cooperative) =>
        $"It is written by a program, and replies are not read. To change or stop it, ask {cooperative}.";

    /// <inheritdoc/>
    public override string WrittenByAProgram => "It is written by a program, and replies are not read.";

    /// <inheritdoc/>
    public override string ToldInPlaceOf(IReadOnlyList<string> names) => $"It also tells what {List(names)} would be told: you stand in while they are away.";

    /// <inheritdoc/>
    public override string MailWishes => "Choose what you are told, and when";

    /// <inheritdoc/>
    public override string StopDigests => "Stop the morning mail";

    /// <inheritdoc/>
    public override string UrgentTitle => "This cannot wait";

    /// <inheritdoc/>
    public override string UrgentSummary => "This came up outside of your morning mail.";

    /// <inheritdoc/>
    public override string TakenBackTitle => "No longer urgent";

    /// <inheritdoc/>
    public override string TakenBackSummary => "The forecast has turned: what an earlier mail called urgent need not be done.";

    /// <inheritdoc/>
    public override string WhyYouGetUrgent(string cooperative) =>
        $"You get this because you look after beds of {cooperative} and something cannot wait until the morning. Three such messages a day at most.";

    /// <inheritdoc/>
    public override string StopUrgent => "Stop urgent messages";

    /// <inheritdoc/>
    protected override string And(string next) => " and ";

    private string Lookalikes(Species species) => List([.. species.Lookalikes.Select(other => other.InLanguage(Language).Name)]);

    private string Beds(int beds) => $"{Number(beds)} {(beds == 1 ? "bed" : "beds")}";

    private string Age(Duration age) => age < Duration.FromHours(48)
        ? $"{Number(Math.Floor(age.TotalHours))} hours"
        : $"{Number(Math.Floor(age.TotalDays))} days";
}
