using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Digests;
using NodaTime;

namespace FruitWatch.Service.Text;

// What the morning mail says around its notices.
internal abstract partial class Words
{
    /// <summary>A notice as part of a subject, beginning small, such as "water Path bed today".</summary>
    /// <param name="notice">The notice.</param>
    /// <param name="beds">The bed, or several, such as "Path bed and 2 more".</param>
    /// <param name="today">The site's local day.</param>
    public abstract string Gist(NoticeDraft notice, string beds, LocalDate today);

    /// <summary>Further beds after one that is named, such as "Path bed and 2 more".</summary>
    public abstract string AndMore(string bed, int more);

    /// <summary>Further notices that a subject has no room for, such as "3 more".</summary>
    public abstract string More(int count);

    /// <summary>A withdrawn notice as part of a subject, such as "water for Path bed no longer needed".</summary>
    public abstract string NoLongerNeededGist(NoticeKind kind, string bed);

    /// <summary>Nothing at all to do, beginning small.</summary>
    public abstract string NothingToDo { get; }

    /// <summary>Nothing new, but some still open, such as "nothing new today; 2 still open".</summary>
    public abstract string NothingNew(int open);

    /// <summary>How many beds are looked after, such as "4 beds watched".</summary>
    public abstract string BedsWatched(int beds);

    /// <summary>Nothing can be told at all, such as "no weather yet for your beds".</summary>
    public abstract string NothingKnown { get; }

    /// <summary>The forecast is old, beginning small, such as "the forecast is 2 days old".</summary>
    public abstract string ForecastIsOld(Duration age);

    /// <summary>What to make of an old forecast.</summary>
    /// <param name="age">Since it was issued.</param>
    /// <param name="feed">Who gives it; may be empty.</param>
    /// <param name="since">When it was issued, at the site.</param>
    public abstract string OldForecast(Duration age, string feed, LocalDateTime since);

    /// <summary>There is no forecast, beginning small.</summary>
    public abstract string NoForecastGist { get; }

    /// <summary>What to make of a site without a forecast.</summary>
    public abstract string NoForecast { get; }

    /// <summary>The first words.</summary>
    public abstract string Greeting(string name, bool late);

    /// <summary>Why the list comes at this hour.</summary>
    public abstract string ComesLate { get; }

    /// <summary>What the mail holds, in numbers, as a sentence.</summary>
    /// <param name="toDo">Notices to act on.</param>
    /// <param name="coming">Notices of what is to be expected.</param>
    /// <param name="open">Told before, and still open.</param>
    /// <param name="noLongerNeeded">Withdrawn.</param>
    /// <param name="known">Whether a fresh forecast stands behind it: an old one is no all-clear.</param>
    public abstract string Counts(int toDo, int coming, int open, int noLongerNeeded, bool known);

    /// <summary>A site where nothing is to be done.</summary>
    /// <param name="known">Whether a fresh forecast stands behind it.</param>
    public abstract string NothingHere(bool known);

    /// <summary>Heading: what to do.</summary>
    public abstract string ToDo { get; }

    /// <summary>Heading: what is to be expected.</summary>
    public abstract string Coming { get; }

    /// <summary>Heading: what was told before and still holds.</summary>
    public abstract string StillOpen { get; }

    /// <summary>Heading: what was told before and no longer holds.</summary>
    public abstract string NoLongerNeeded { get; }

    /// <summary>Heading: the beds one by one.</summary>
    public abstract string BedByBed { get; }

    /// <summary>Heading: the days after today.</summary>
    public abstract string NextDays { get; }

    /// <summary>Heading of the caution.</summary>
    public abstract string BeforeEating { get; }

    /// <summary>How soon, as one word.</summary>
    public abstract string NameOf(Urgency urgency);

    /// <summary>Marks a notice that was told before and has changed.</summary>
    public abstract string Changed { get; }

    /// <summary>How sure a notice is, such as "sure: likely".</summary>
    public abstract string HowSure(NoticeConfidence confidence);

    /// <summary>When a window of pins or harvest ends, as the beginning of a sentence.</summary>
    public abstract string WindowEnds(LocalDate day);

    /// <summary>When a notice that is still open was first told.</summary>
    public abstract string ToldOn(LocalDate day);

    /// <summary>
    /// The caution in short, where it stood at length before: further up, or in an earlier mail. Names this species' dangerous lookalikes.
    /// </summary>
    public abstract string EatingCautionInShort(Species species);

    /// <summary>A day's weather. Values that are not known are said to be so. [°C], [mm]</summary>
    public abstract string Weather(double? tmin, double? tmax, double? rain, bool estimated);

    /// <summary>The day that the mail is for, in front of its weather.</summary>
    public abstract string Today { get; }

    /// <summary>A day in a list of days, such as "Tue 6".</summary>
    public abstract string DayInList(LocalDate date);

    /// <summary>The phase with how far it has come, such as "spawn run, 45 % done".</summary>
    public abstract string PhaseOf(AccountDay state);

    /// <summary>The day's score and what holds it down, such as "score 62 of 100, too dry".</summary>
    /// <param name="score">0…100</param>
    /// <param name="limit">What holds it down; null where nothing much does.</param>
    public abstract string Score(double score, string? limit);

    /// <summary>Relative moisture, such as "moisture 48 %".</summary>
    public abstract string MoistureOf(double moisture);

    /// <summary>Why a bed has no account.</summary>
    public abstract string NoAccount(AccountProblem problem);

    /// <summary>The beds one by one were left out for length.</summary>
    public abstract string BedsLeftOut { get; }

    /// <summary>Link to the pages.</summary>
    public abstract string OpenThePage { get; }

    /// <summary>Why the reader gets this.</summary>
    public abstract string WhyYouGetThis(string cooperative, IReadOnlyList<string> sites);

    /// <summary>Nobody reads an answer.</summary>
    public abstract string RepliesAreNotRead(string cooperative);

    /// <summary>The same, beside a link to end it.</summary>
    public abstract string WrittenByAProgram { get; }

    /// <summary>That the mail also tells what would have been told to people who are away.</summary>
    public abstract string ToldInPlaceOf(IReadOnlyList<string> names);

    /// <summary>Link to what the reader is told, when and about what.</summary>
    public abstract string MailWishes { get; }

    /// <summary>Link that ends the morning mail.</summary>
    public abstract string StopDigests { get; }

    /// <summary>Title of a letter about what cannot wait.</summary>
    public abstract string UrgentTitle { get; }

    /// <summary>What such a letter is.</summary>
    public abstract string UrgentSummary { get; }

    /// <summary>Title of a letter that takes something urgent back.</summary>
    public abstract string TakenBackTitle { get; }

    /// <summary>What such a letter is.</summary>
    public abstract string TakenBackSummary { get; }

    /// <summary>Why the reader gets a letter outside the morning mail.</summary>
    public abstract string WhyYouGetUrgent(string cooperative);

    /// <summary>Link that ends letters outside the morning mail.</summary>
    public abstract string StopUrgent { get; }

    /// <summary>What the reader says with one tap, such as "Watered" or "Cover is off".</summary>
    public string SayDeed(Deed deed, NoticeDraft notice) =>
        deed == Deed.Watered && notice.Amount is { } litres ? $"{NameOf(deed)}, {Volume(litres)}" : NameOf(deed);

    /// <summary>Names in a sentence, such as "Alder Lane, Orchard and Mill".</summary>
    public string List(IReadOnlyList<string> names) => names.Count switch
    {
        0 => "",
        1 => names[0],
        _ => string.Join(", ", names.Take(names.Count - 1)) + And(names[^1]) + names[^1],
    };

    /// <summary>The word before the last of several names, with its spaces.</summary>
    protected abstract string And(string next);
}
