using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

// What people are told, stopping it, and what they were sent.
internal abstract partial class Words
{
    public abstract string NameOf(DigestWish wish);

    public abstract string WishesSaid(DigestWish wish);

    public abstract string NameOf(UrgentWish wish);

    public abstract string WishesSaid(UrgentWish wish);

    public abstract string NameOf(DigestRole role);

    public abstract string WishesTitle { get; }

    public abstract string WishesDigests { get; }

    public abstract string WishesUrgent { get; }

    public abstract string WishesUrgentHint { get; }

    public abstract string WishesKinds { get; }

    public abstract string WishesKindsHint { get; }

    public abstract string WishesSitesHint { get; }

    public abstract string WishesSitesFixed { get; }

    public abstract string WishesOwnBeds { get; }

    /// <summary>What it does to take the tick from a bed, and what becomes of new ones.</summary>
    public abstract string WishesBedsHint { get; }

    public abstract string WishesBedsOf(string site);

    /// <summary>Of how many beds somebody is told; stands behind <see cref="WishesBedsOf"/>.</summary>
    public abstract string WishesBedsTold(int told, int all);

    public abstract string WishesPause { get; }

    public abstract string WishesPauseHint { get; }

    public abstract string WishesAwayFrom { get; }

    public abstract string WishesAwayUntil { get; }

    public abstract string WishesBothDays { get; }

    public abstract string WishesPauseWithin { get; }

    public abstract string WishesDeputy { get; }

    public abstract string WishesDeputyHint { get; }

    public abstract string WishesDeputyNeedsDays { get; }

    public abstract string WishesNoDeputy { get; }

    public abstract string WishesNobody { get; }

    /// <summary>In brackets behind a name, or at the end of a sentence.</summary>
    public abstract string NameOf(DeputyDoubt doubt);

    /// <summary>That it is doubtful whether somebody hears of it; the reasons follow.</summary>
    public abstract string WishesDeputyDoubtful(string name);

    public abstract string WishesWhen { get; }

    public abstract string WishesHours(LocalTime? morning, LocalTime quietFrom, LocalTime quietUntil);

    public abstract string WishesToHours { get; }

    public abstract string WishesToCalendars { get; }

    public abstract string WishesNoAddress { get; }

    public abstract string WishesPausedTitle { get; }

    /// <summary>Nothing is sent to an address at present, since when and why.</summary>
    public abstract string WishesPaused(string address, string since, string why);

    public abstract string WishesResume { get; }

    public abstract string WishesResumed { get; }

    public abstract string WishesHistory { get; }

    public abstract string WishesNothingSent { get; }

    /// <summary>Why a mail was sent, by its key.</summary>
    public string WishesWhy(string mailKey) => WishesWhyOf(mailKey.Split(':')[0]);

    /// <param name="what">First part of the mail's key.</param>
    protected abstract string WishesWhyOf(string what);

    public abstract string TestTitle { get; }

    public abstract string TestSend { get; }

    public abstract string TestSent(string address);

    public abstract string TestNotPossible { get; }

    public abstract string TestSubject { get; }

    public abstract string TestSummary(string cooperative);

    public abstract string TestWhyYou { get; }

    public abstract string StopTitle(StopTopic topic);

    public abstract string StopStoppedTitle(StopTopic topic);

    /// <param name="topic">What would be stopped.</param>
    /// <param name="otherComes">Whether the other kind of mails comes.</param>
    public abstract string StopSaid(StopTopic topic, bool otherComes);

    public abstract string StopButton(StopTopic topic);

    public abstract string StopLooking { get; }

    public abstract string StopDone(StopTopic topic);

    public abstract string StopStart(StopTopic topic);

    public abstract string StopStarted(StopTopic topic);

    public abstract string StopWhose(string person, string cooperative);

    public abstract string StopRest { get; }

    public abstract string StopBeds { get; }

    /// <summary>Opens what can be chosen without stopping all of it.</summary>
    public abstract string StopInstead { get; }

    /// <summary>That the link can choose no more than what was chosen before; where to do that follows.</summary>
    public abstract string StopLess { get; }

    public abstract string StopUnknownTitle { get; }

    public abstract string StopUnknownSaid { get; }
}
