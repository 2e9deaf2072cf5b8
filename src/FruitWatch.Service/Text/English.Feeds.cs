using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Weather;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string FeedsLink => "Feeds";

    public override string FeedsTitle => "Weather feeds";

    public override string FeedsLead => "Where the weather of each site comes from, and how well it comes.";

    public override string FeedsAdd => "Add a feed";

    public override string FeedsNoneUsed => "This site has no feed: nothing is known of its weather.";

    public override string FeedsUnused => "Feeds that no site uses";

    public override string FeedsGoneDone => "The feed is deleted.";

    public override string FeedsSavedDone => "The feed is saved. It is asked at the next round.";

    public override string FeedsAskedDone => "The feed was asked.";

    public override string FeedsConfirmedDone => "Noted: the units are right.";

    public override string FeedsLastGood => "Last good answer";

    public override string FeedsNever => "never";

    public override string FeedsLastDay => "Last day told";

    public override string FeedsNextTry => "Next try";

    public override string FeedsUnknown => "unknown";

    public override string FeedsAskNow => "Ask now";

    public override string FeedsUnitsRight => "The units are right";

    public override string FeedsUnitsMend => "Mend it";

    public override string FeedsNotes => "What was odd";

    public override string FeedsEvidence => "What came instead";

    public override string FeedsLicence => "Licence";

    public override string FeedsCredit => "Credit";

    public override string FeedsBackfill => "Past years";

    public override string FeedsSlotTitle => "What the site uses it for";

    public override string FeedsNewTitle => "Add a weather feed";

    public override string FeedsNewLead => "Choose where the weather comes from. Nothing counts until you have seen what was understood, and saved it.";

    public override string FeedsRecommended => "the usual choice";

    public override string FeedsNeedsFile => "a file of yours";

    public override string FeedsNeedsKey => "a key from the provider";

    public override string FeedsNeedsStation => "the name of a station";

    public override string FeedsNeeds => "Needs";

    public override string FeedsOwnTitle => "A feed of your own";

    public override string FeedsOwnSaid => "Any open feed that answers with JSON, CSV or fixed-width rows: start from the nearest description and change it under \"The description\".";

    public override string FeedsSite => "Site";

    public override string FeedsStation => "Station";

    public override string FeedsStationHint => "Its identifier in the feed's own list.";

    public override string FeedsKey => "Key";

    public override string FeedsKeyHint => "As the provider gave it. It is kept sealed and never shown again.";

    public override string FeedsKeyKept => "A key is kept. Leave this empty to go on using it.";

    public override string FeedsFile => "File";

    public override string FeedsName => "What to call it";

    public override string FeedsAdvanced => "The description (advanced)";

    public override string FeedsAdvancedHint => "The language weather-feed/1, as JSON. docs/feeds.md explains every member.";

    public override string FeedsDescription => "Description as JSON";

    public override string FeedsAskAndShow => "Ask and show";

    public override string FeedsReadAndShow => "Read and show";

    public override string FeedsNotTaken => "That could not be taken as it is.";

    public override string FeedsChooseSite => "Choose a site.";

    public override string FeedsGiveStation => "Name the station.";

    public override string FeedsGiveKey => "Enter the key.";

    public override string FeedsGiveFile => "Choose a file.";

    public override string FeedsGiveName => "Give it a name of up to 120 characters.";

    public override string FeedsNothingSaved => "Nothing is saved yet.";

    public override string FeedsJustAsked => "The feed was asked once, just now.";

    public override string FeedsJustRead => "The file was read just now.";

    public override string FeedsNotAsked => "Nobody has asked yet.";

    public override string FeedsRequestChanged => "The description now asks for something else than this answer. Ask again before you save it.";

    public override string FeedsKeyDropped => "The key was dropped: the description now sends it to another host than the one it was given for. Enter the key for that host.";

    public override string FeedsAsked => "Asked";

    public override string FeedsAskedFile => "File";

    public override string FeedsCame => "Came";

    public override string FeedsType => "Type";

    public override string FeedsSize => "Size";

    public override string FeedsDays => "Days";

    public override string FeedsMembers => "Members";

    public override string FeedsLookAt => "Look at this first";

    public override string FeedsRefusedTitle => "No days were understood";

    public override string FeedsWhere => "Where";

    public override string FeedsWhatToDo => "What to do";

    public override string FeedsTableTitle => "The days, as they were understood";

    public override string FeedsTableRegion => "Table of the days";

    public override string FeedsTmax => "Highest";

    public override string FeedsTmin => "Lowest";

    public override string FeedsTmean => "Mean";

    public override string FeedsRain => "Rain";

    public override string FeedsHumidity => "Humidity";

    public override string FeedsFrom => "Kind of day";

    public override string FeedsPastDay => "past";

    public override string FeedsForecast => "forecast";

    public override string FeedsComplete => "complete";

    public override string FeedsRawTitle => "in the answer";

    public override string FeedsGaps => "Gaps";

    public override string FeedsHead => "The beginning of the answer";

    public override string FeedsCaveats => "Good to know";

    public override string FeedsConditions => "Conditions";

    public override string FeedsSaveTitle => "Use it";

    public override string FeedsSaveSaid => "What is saved is exactly what you see here.";

    public override string FeedsSave => "Save the feed";

    public override string FeedsNotYet => "It cannot be saved yet.";

    public override string FeedsUnitsChecked => "I have looked at the numbers: the units are right";

    public override string FeedsAskAgain => "Ask again";

    public override string FeedsOtherFile => "Another file";

    public override string FeedsTry => "Try it on the answer that is there";

    public override string FeedsTryChanged => "Try the change";

    public override string FeedsChange => "Change it";

    public override string FeedsChangeSaid => "A changed description is tried on the last answer first. Nothing is asked, and nothing changes until you save it.";

    public override string FeedsKept => "What is kept";

    public override string FeedsShortName => "Short name";

    public override string FeedsProvides => "Tells";

    public override string FeedsUsedBy => "Used by";

    public override string FeedsNobody => "no site";

    public override string FeedsKeyIsKept => "A key is kept.";

    public override string FeedsDelete => "Delete the feed";

    public override string FeedsNoAnswer => "No answer of this feed is kept yet.";

    public override string FeedsCannotRead => "The description cannot be read";

    public override string FeedsDraftGone => "That preview is no longer there. They are kept for a day: start again.";

    public override string FeedsUnsettled => "Answer the question about the units first: mend it, or tick that they are right.";

    public override string FeedsFixed => "Mended. The kept answer was read again with it.";

    public override string NameOf(FeedStanding standing) => standing switch
    {
        FeedStanding.NotAsked => "not asked yet",
        FeedStanding.Good => "good",
        FeedStanding.Failing => "gave nothing, is asked again",
        FeedStanding.Waiting => "waits for somebody to mend it",
        _ => "held: are its units right?",
    };

    public override string NameOf(FeedSlot slot) => slot switch
    {
        FeedSlot.Forecast => "Days to come",
        FeedSlot.Station => "Measured days, from a station near by",
        _ => "Past years, from an archive",
    };

    public override string NameOf(FeedProvides provides) => provides switch
    {
        FeedProvides.Forecast => "coming days",
        FeedProvides.History => "past days",
        FeedProvides.Both => "past and coming days",
        _ => "coming days, many times over",
    };

    public override string NameOf(FeedPurpose purpose) => purpose switch
    {
        FeedPurpose.Anywhere => "A forecast, for anywhere",
        FeedPurpose.UnitedStates => "In the United States",
        FeedPurpose.Nordics => "In the Nordic countries",
        FeedPurpose.Germany => "In Germany",
        FeedPurpose.OwnStation => "Your own station",
        FeedPurpose.PastYears => "Past years",
        FeedPurpose.Spread => "How sure a forecast is",
        _ => "Others",
    };

    public override string FeedsAgo(Duration age) =>
        age.TotalHours < 1 ? "less than an hour ago" : age.TotalHours < 48 ? $"{Number(age.TotalHours)} hours ago" : $"{Number(age.TotalDays)} days ago";

    public override string FeedsIn(Duration wait) =>
        wait <= Duration.Zero ? "at the next round" : wait.TotalHours < 1 ? "within the hour" : wait.TotalHours < 48 ? $"in {Number(wait.TotalHours)} hours" : $"in {Number(wait.TotalDays)} days";

    public override string FeedsSilent(LocalDateTime since, LocalDate today) => $"Silent since {When(since, today)}.";

    public override string FeedsFailures(int inARow) => inARow == 1 ? "One try without a good answer." : $"{Number(inARow)} tries in a row without a good answer.";

    public override string FeedsBackfillSaid(BackfillState state, double done, int days) => state switch
    {
        BackfillState.Running => $"being fetched: {Percent(done)} asked for, {Number(days)} days kept",
        BackfillState.Halted => $"halted at {Percent(done)}, {Number(days)} days kept",
        BackfillState.Done => $"all asked for, {Number(days)} days kept",
        _ => $"stuck at {Percent(done)}, {Number(days)} days kept",
    };

    public override string FeedsReadAgain(LocalDateTime at, LocalDate today) => $"The answer kept from {When(at, today)} was read again. Nobody was asked.";

    public override string FeedsDaysFound(int count, LocalDate first, LocalDate last, int shown) =>
        $"{Number(count)}, {Dated(first)} to {Dated(last)}{(shown < count ? $"; {Number(shown)} of them are shown" : "")}";

    public override string FeedsGap(LocalDate first, LocalDate last) => first == last ? $"{Dated(first)}: unknown" : $"{Dated(first)} to {Dated(last)}: unknown";

    public override string FeedsWarning(TrialWarning warning) => warning.Code == TrialWarning.Far
        ? $"The answer is for a place {Number(warning.Amount)}\u00a0km from the site ({Number(warning.Place.Latitude, 3)}°, {Number(warning.Place.Longitude, 3)}°)."
        : $"The answer is for a height of {Number(warning.Place.Elevation ?? 0)}\u00a0m, {Number(warning.Amount)}\u00a0m off the site's. Check the site's elevation.";

    public override string FeedsIncomplete(double coverage) => $"incomplete, {Percent(coverage)} of the day";

    public override string FeedsRange(string low, string high) => $"{low} to {high}";

    public override string FeedsRawCount(int count) => $"from {Number(count)} values";

    public override string FeedsNotTold(IEnumerable<string> quantities) => $"This feed tells nothing of: {string.Join(", ", quantities)}.";

    public override string FeedsTimes(int count) => count == 1 ? "once" : $"{Number(count)} times";

    public override string FeedsInstead(string feed) => $"instead of {feed}";

    public override string FeedsProblemAt(string pointer, int line) => $"{pointer}, line {line}";

    public override string FeedsTooOften(int most, int seconds) =>
        $"Feeds are asked for a look {most} times a minute at most. Try again in {seconds} seconds; a changed description can be tried at any time on the answer that is there.";

    public override string FeedsRefused(FeedRefusedException refused) => refused.Why switch
    {
        FeedRefusal.NotSeenGood => "Only what was seen to give days is saved. Try the feed, look at what was understood, and save that.",
        FeedRefusal.TooOld => "The trial is more than a day old: the weather it was tried on has passed. Try the feed again.",
        FeedRefusal.NoKey => "The feed needs a key, and none is there. Give it to the trial.",
        FeedRefusal.UnitsAsked => "There is a question about its units. Mend the description, or confirm that the units are right.",
        FeedRefusal.OtherFeed => "The trial is not one of this feed: a trial of a new feed makes a feed, a trial of a feed changes that one.",
        FeedRefusal.InUse => $"It is in use at {string.Join(", ", refused.Sites)}. Give these another feed first.",
        _ => "Weather that it told is kept, and has to be able to say where it came from. It can stay without being used.",
    };

    public override string FeedsWaitFor(Duration wait) => $"Leave it alone for {Number(Math.Ceiling(wait.TotalMinutes))} minutes.";

    public override string FeedsLooksTitle(string feed, string site) => $"What was understood: {feed}, for {site}";

    public override string FeedsSlotAt(string site) => $"What {site} uses it for";

    private string Dated(LocalDate day) => day.ToString("d MMM uuuu", Culture);
}
