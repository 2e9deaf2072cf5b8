using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string NameOf(DigestWish wish) => wish switch
    {
        DigestWish.EveryMorning => "Every morning",
        DigestWish.WhenThereIsNews => "When there is news",
        _ => "Never",
    };

    public override string WishesSaid(DigestWish wish) => wish switch
    {
        DigestWish.EveryMorning => "One mail a day, quiet days too.",
        DigestWish.WhenThereIsNews => "Mornings with nothing to do and nothing new are skipped.",
        _ => "What is due stands on the pages only, but for what cannot wait, if you are told of that.",
    };

    public override string NameOf(UrgentWish wish) => wish switch
    {
        UrgentWish.InWakingHours => "Outside your quiet hours",
        UrgentWish.AtAnyHour => "At any hour",
        _ => "Never",
    };

    public override string WishesSaid(UrgentWish wish) => wish switch
    {
        UrgentWish.InWakingHours => "At night it waits until your quiet hours end, and comes if it is still of use then.",
        UrgentWish.AtAnyHour => "By night too.",
        _ => "The next morning mail tells of it, if you get one.",
    };

    public override string NameOf(DigestRole role) => role switch
    {
        DigestRole.New => "New",
        DigestRole.Changed => "Changed",
        DigestRole.Withdrawn => "No longer needed",
        _ => "Still open",
    };

    public override string WishesTitle => "What you are told";

    public override string WishesDigests => "Morning mail";

    public override string WishesUrgent => "What cannot wait";

    public override string WishesUrgentHint => "Hard frost tonight on a flush, heat on an uncovered young bed, a storm on a covered one: a mail of its own.";

    public override string WishesKinds => "Tell me of";

    public override string WishesKindsHint => "The words on knowing a mushroom before eating it stand beside every notice of pins and harvest. They are never left out.";

    public override string WishesSitesHint => "The mails tell of these sites.";

    public override string WishesSitesFixed => "The coordinator of the cooperative says which sites these are.";

    public override string WishesOwnBeds => "You look after beds here.";

    public override string WishesBedsHint => "A bed without a tick is in none of your mails and calendars. A bed that is added later begins with one.";

    public override string WishesBedsOf(string site) => $"Beds of {site}";

    public override string WishesBedsTold(int told, int all) => told == all ? "told of all" : $"told of {told} of {all}";

    public override string WishesPause => "A pause";

    public override string WishesPauseHint => "From the first day to the last, both included, you are sent neither the morning mail nor urgent ones. The mails begin again by themselves.";

    public override string WishesAwayFrom => "First day away";

    public override string WishesAwayUntil => "Last day away";

    public override string WishesBothDays => "Give both days of the pause, or neither.";

    public override string WishesPauseWithin => "The last day is the first or a later one, and at most a year after it.";

    public override string WishesDeputy => "Told in your place";

    public override string WishesDeputyHint => "They are told of your sites and beds too. It can be whoever may see all of the cooperative's beds: coordinators, viewers, and growers where growers read each other's beds. Ask them first.";

    public override string WishesDeputyNeedsDays => "Give the days of the pause as well.";

    public override string WishesNoDeputy => "Choose another member who is let in, has an e-mail address, and may see all of the cooperative's beds.";

    public override string WishesNobody => "nobody";

    public override string NameOf(DeputyDoubt doubt) => doubt switch
    {
        DeputyDoubt.MailPaused => "mail to them comes back",
        DeputyDoubt.NoDigests => "gets no morning mail",
        DeputyDoubt.NoUrgent => "gets no urgent mails",
        _ => "has a pause too",
    };

    public override string WishesDeputyDoubtful(string name) => $"{name} may not hear of it:";

    public override string WishesWhen => "When and where else";

    public override string WishesHours(LocalTime? morning, LocalTime quietFrom, LocalTime quietUntil) =>
        (morning is { } at ? $"The morning mail comes from {Time(at)} on" : "The morning mail comes as soon as the morning round is done")
        + (quietFrom == quietUntil ? "; you have no quiet hours." : $"; quiet from {Time(quietFrom)} until {Time(quietUntil)}.");

    public override string WishesToHours => "Change the hours";

    public override string WishesToCalendars => "Calendars";

    public override string WishesNoAddress => "You have no e-mail address here.";

    public override string WishesPausedTitle => "Mail does not get through";

    public override string WishesPaused(string address, string since, string why) =>
        $"Mail to {address} came back, and nothing is sent there since {since}.{(why.Length > 0 ? $" The other server said: {why}" : "")}";

    public override string WishesResume => "Try again";

    public override string WishesResumed => "Mail is sent again from now on.";

    public override string WishesHistory => "What you were sent, and why";

    public override string WishesNothingSent => "Nothing yet.";

    protected override string WishesWhyOf(string what) => what switch
    {
        "digest" => "Morning mail",
        "urgent" => "Urgent",
        "test" => "You asked for a test",
        "silence" => "A weather feed is silent",
        "invitation" => "You were invited",
        "webhook-stopped" => "A webhook was stopped",
        "taken-back" => "No longer urgent",
        "address-paused" => "Mail to somebody came back",
        _ => "From the service",
    };

    public override string TestTitle => "Do mails reach you?";

    public override string TestSend => "Send me a test message";

    public override string TestSent(string address) => $"A test message to {address} is on its way.";

    public override string TestNotPossible => "There is no address known to be yours, or mail to it comes back: nothing was sent.";

    public override string TestSubject => "Test message: mails reach you";

    public override string TestSummary(string cooperative) => $"You asked for this from the pages of {cooperative}. If it lies in front of you, the other mails will reach you too.";

    public override string TestWhyYou => "If it lay among unwanted mail, tell your mail reader that it is wanted.";

    public override string StopTitle(StopTopic topic) => topic == StopTopic.Digest ? "Stop the morning mail?" : "Stop urgent mails?";

    public override string StopStoppedTitle(StopTopic topic) => topic == StopTopic.Digest ? "The morning mail is stopped" : "Urgent mails are stopped";

    public override string StopSaid(StopTopic topic, bool otherComes) => (topic, otherComes) switch
    {
        (StopTopic.Digest, true) => "You are then told in no morning mail what your beds need. Urgent notices still come.",
        (StopTopic.Digest, false) => "You are then told in no mail what your beds need: urgent mails are stopped too. It stands on the pages only.",
        (_, true) => "You are then told of hard frost, heat and storm in the next morning mail only.",
        _ => "You are then told of hard frost, heat and storm in no mail: the morning mail is stopped too. It stands on the pages only.",
    };

    public override string StopButton(StopTopic topic) => topic == StopTopic.Digest ? "Stop the morning mail" : "Stop urgent mails";

    public override string StopLooking => "Nothing changes before you press the button.";

    public override string StopDone(StopTopic topic) => topic == StopTopic.Digest ? "Done: no more morning mails." : "Done: no more urgent mails.";

    public override string StopStart(StopTopic topic) => topic == StopTopic.Digest ? "Start the morning mail again" : "Start urgent mails again";

    public override string StopStarted(StopTopic topic) => topic == StopTopic.Digest ? "The morning mail comes again." : "Urgent mails come again.";

    public override string StopWhose(string person, string cooperative) => $"This is for {person} at {cooperative}.";

    public override string StopRest => "What else you are sent";

    public override string StopBeds => "Beds that you are told of";

    public override string StopInstead => "Or leave out single beds, or kinds of notices";

    public override string StopLess => "This link can only choose less, and take that back. For more, sign in:";

    public override string StopUnknownTitle => "This link is not known";

    public override string StopUnknownSaid =>
        "It may have been cut off on its way, or is of somebody who is no member any more and is sent nothing. Open it from the mail once more, or ask the coordinator of your cooperative.";

    private string Time(LocalTime time) => Clock(new LocalDate(2000, 1, 1).At(time));
}
