using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Weather;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

// What is said of weather feeds: their health, their previews, and the making of new ones.
internal abstract partial class Words
{
    public abstract string FeedsLink { get; }

    public abstract string FeedsTitle { get; }

    public abstract string FeedsLead { get; }

    public abstract string FeedsAdd { get; }

    public abstract string FeedsNoneUsed { get; }

    public abstract string FeedsUnused { get; }

    public abstract string FeedsGoneDone { get; }

    public abstract string FeedsSavedDone { get; }

    public abstract string FeedsAskedDone { get; }

    public abstract string FeedsConfirmedDone { get; }

    public abstract string FeedsLastGood { get; }

    public abstract string FeedsNever { get; }

    public abstract string FeedsLastDay { get; }

    public abstract string FeedsNextTry { get; }

    public abstract string FeedsUnknown { get; }

    public abstract string FeedsAskNow { get; }

    public abstract string FeedsUnitsRight { get; }

    public abstract string FeedsUnitsMend { get; }

    public abstract string FeedsNotes { get; }

    public abstract string FeedsEvidence { get; }

    public abstract string FeedsLicence { get; }

    public abstract string FeedsCredit { get; }

    public abstract string FeedsBackfill { get; }

    public abstract string FeedsSlotTitle { get; }

    public abstract string FeedsNewTitle { get; }

    public abstract string FeedsNewLead { get; }

    public abstract string FeedsRecommended { get; }

    public abstract string FeedsNeedsFile { get; }

    public abstract string FeedsNeedsKey { get; }

    public abstract string FeedsNeedsStation { get; }

    public abstract string FeedsNeeds { get; }

    public abstract string FeedsOwnTitle { get; }

    public abstract string FeedsOwnSaid { get; }

    public abstract string FeedsSite { get; }

    public abstract string FeedsStation { get; }

    public abstract string FeedsStationHint { get; }

    public abstract string FeedsKey { get; }

    public abstract string FeedsKeyHint { get; }

    public abstract string FeedsKeyKept { get; }

    public abstract string FeedsFile { get; }

    public abstract string FeedsName { get; }

    public abstract string FeedsAdvanced { get; }

    public abstract string FeedsAdvancedHint { get; }

    public abstract string FeedsDescription { get; }

    public abstract string FeedsAskAndShow { get; }

    public abstract string FeedsReadAndShow { get; }

    public abstract string FeedsNotTaken { get; }

    public abstract string FeedsChooseSite { get; }

    public abstract string FeedsGiveStation { get; }

    public abstract string FeedsGiveKey { get; }

    public abstract string FeedsGiveFile { get; }

    public abstract string FeedsGiveName { get; }

    public abstract string FeedsNothingSaved { get; }

    public abstract string FeedsJustAsked { get; }

    public abstract string FeedsJustRead { get; }

    public abstract string FeedsNotAsked { get; }

    public abstract string FeedsRequestChanged { get; }

    public abstract string FeedsKeyDropped { get; }

    public abstract string FeedsAsked { get; }

    public abstract string FeedsAskedFile { get; }

    public abstract string FeedsCame { get; }

    public abstract string FeedsType { get; }

    public abstract string FeedsSize { get; }

    public abstract string FeedsDays { get; }

    public abstract string FeedsMembers { get; }

    public abstract string FeedsLookAt { get; }

    public abstract string FeedsRefusedTitle { get; }

    public abstract string FeedsWhere { get; }

    public abstract string FeedsWhatToDo { get; }

    public abstract string FeedsTableTitle { get; }

    public abstract string FeedsTableRegion { get; }

    public abstract string FeedsTmax { get; }

    public abstract string FeedsTmin { get; }

    public abstract string FeedsTmean { get; }

    public abstract string FeedsRain { get; }

    public abstract string FeedsHumidity { get; }

    public abstract string FeedsFrom { get; }

    public abstract string FeedsPastDay { get; }

    public abstract string FeedsForecast { get; }

    public abstract string FeedsComplete { get; }

    public abstract string FeedsRawTitle { get; }

    public abstract string FeedsGaps { get; }

    public abstract string FeedsHead { get; }

    public abstract string FeedsCaveats { get; }

    public abstract string FeedsConditions { get; }

    public abstract string FeedsSaveTitle { get; }

    public abstract string FeedsSaveSaid { get; }

    public abstract string FeedsSave { get; }

    public abstract string FeedsNotYet { get; }

    public abstract string FeedsUnitsChecked { get; }

    public abstract string FeedsAskAgain { get; }

    public abstract string FeedsOtherFile { get; }

    public abstract string FeedsTry { get; }

    public abstract string FeedsTryChanged { get; }

    public abstract string FeedsChange { get; }

    public abstract string FeedsChangeSaid { get; }

    public abstract string FeedsKept { get; }

    public abstract string FeedsShortName { get; }

    public abstract string FeedsProvides { get; }

    public abstract string FeedsUsedBy { get; }

    public abstract string FeedsNobody { get; }

    public abstract string FeedsKeyIsKept { get; }

    public abstract string FeedsDelete { get; }

    public abstract string FeedsNoAnswer { get; }

    public abstract string FeedsCannotRead { get; }

    public abstract string FeedsDraftGone { get; }

    public abstract string FeedsUnsettled { get; }

    public abstract string FeedsFixed { get; }

    /// <summary>How a feed stands at a site, in a few words.</summary>
    public abstract string NameOf(FeedStanding standing);

    /// <summary>What a site uses a feed for.</summary>
    public abstract string NameOf(FeedSlot slot);

    public abstract string NameOf(FeedProvides provides);

    public abstract string NameOf(FeedPurpose purpose);

    /// <summary>What a shipped description is good for, in one sentence; null for one that nothing is said of.</summary>
    public abstract string? FeedsPresetSaid(string id);

    /// <summary>What a code means, in a few words; the exact sentence stands beside it in English.</summary>
    public abstract string FeedsCode(string code);

    /// <summary>How long ago, roughly.</summary>
    public abstract string FeedsAgo(Duration age);

    /// <summary>How long from now, roughly.</summary>
    public abstract string FeedsIn(Duration wait);

    public abstract string FeedsSilent(LocalDateTime since, LocalDate today);

    public abstract string FeedsFailures(int inARow);

    public abstract string FeedsBackfillSaid(BackfillState state, double done, int days);

    /// <summary>When the kept answer came that was read again.</summary>
    public abstract string FeedsReadAgain(LocalDateTime at, LocalDate today);

    public abstract string FeedsDaysFound(int count, LocalDate first, LocalDate last, int shown);

    public abstract string FeedsGap(LocalDate first, LocalDate last);

    public abstract string FeedsWarning(TrialWarning warning);

    public abstract string FeedsIncomplete(double coverage);

    public abstract string FeedsRange(string low, string high);

    public abstract string FeedsRawCount(int count);

    /// <summary>Quantities of which the feed tells nothing.</summary>
    public abstract string FeedsNotTold(IEnumerable<string> quantities);

    public abstract string FeedsTimes(int count);

    /// <summary>The slot is filled already.</summary>
    public abstract string FeedsInstead(string feed);

    public abstract string FeedsProblemAt(string pointer, int line);

    public abstract string FeedsTooOften(int most, int seconds);

    public abstract string FeedsRefused(FeedRefusedException refused);

    public abstract string FeedsWaitFor(Duration wait);

    /// <summary>Title of a preview: what was understood of a feed for a site.</summary>
    public abstract string FeedsLooksTitle(string feed, string site);

    public abstract string FeedsSlotAt(string site);

    /// <summary>A day in a table, with weekday.</summary>
    public string FeedsDay(LocalDate day) => day.ToString("ddd d MMM", Culture);

    /// <summary>A number with exactly so many decimals, so that a column of them lines up.</summary>
    public string FeedsNumber(double value, int decimals) =>
        (Math.Round(value, decimals, MidpointRounding.AwayFromZero) + 0.0).ToString("N" + decimals.ToString(System.Globalization.CultureInfo.InvariantCulture), Culture);

    /// <summary>A length of bytes.</summary>
    public string FeedsBytes(long bytes) => bytes < 10_000 ? $"{Number(bytes)}\u00a0B" : bytes < 10_000_000 ? $"{Number(bytes / 1000.0)}\u00a0kB" : $"{Number(bytes / 1e6, 1)}\u00a0MB";

    /// <summary>A number as it stood in an answer, with its unit.</summary>
    public static string FeedsRaw(RawValue raw)
    {
        var unit = raw.Unit switch { "Cel" => "°C", "[degF]" => "°F", "[in_i]" => "in", _ => raw.Unit };
        return raw.Scale == 1
            ? $"{raw.Text}\u00a0{unit}"
            : string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{raw.Text}\u00a0× {raw.Scale}\u00a0{unit}");
    }
}
