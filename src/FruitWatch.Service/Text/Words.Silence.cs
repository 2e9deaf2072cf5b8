using FruitWatch.Service.Weather;
using NodaTime;

namespace FruitWatch.Service.Text;

// A feed that has been silent, in the coordinator's mail and on the pages.
internal abstract partial class Words
{
    /// <summary>The matter in one line.</summary>
    public abstract string SilenceSubject(string feed);

    public abstract string SilenceGreeting(string name);

    /// <summary>What has happened, at how many sites, since when.</summary>
    public abstract string SilenceSummary(string feed, int sites, LocalDateTime since);

    public abstract string SilenceSince(LocalDateTime lastGood);

    /// <summary>It has never given anything good.</summary>
    public abstract string SilenceNever(LocalDateTime firstTried);

    /// <summary>Why, in the words of the program that read the answer, which are English.</summary>
    public abstract string SilenceReason(string problem);

    /// <summary>What it means for the beds.</summary>
    public abstract string SilenceMeaning(FeedSlot slot, LocalDateTime? forecastOf);

    public abstract string SilenceToDo(FeedStanding state);

    public abstract string SilenceMoreSites(int more);

    public abstract string SilenceWhyYou(string cooperative);

    public abstract string SilenceOnce { get; }

    /// <summary>A feed that does not serve its site, in a line on a page; null where all is well.</summary>
    public string? SilenceLine(SiteFeedHealth feed, Func<Instant, LocalDateTime> local, LocalDate today) => feed switch
    {
        { State: FeedStanding.Asked } => SilenceHeld(feed.Title),
        { SilentSince: { } since } => SilenceOnPage(feed.Title, When(local(since), today), feed.LastGoodAt is not null),
        { State: FeedStanding.Waiting } => SilenceWaiting(feed.Title),
        _ => null,
    };

    protected abstract string SilenceHeld(string feed);

    protected abstract string SilenceOnPage(string feed, string since, bool everGood);

    protected abstract string SilenceWaiting(string feed);

    public abstract string SilenceOpenFeeds { get; }
}
