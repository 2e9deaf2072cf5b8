using FruitWatch.Service.Deeds;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string NameOf(Deed deed) => deed switch
    {
        Deed.Watered => "Watered",
        Deed.CoverOn => "Cover is on",
        Deed.CoverOff => "Cover is off",
        Deed.PinsSeen => "Pins seen",
        _ => "Not today",
    };

    public override string DeedTitle(Deed deed) => deed switch
    {
        Deed.Watered => "Did you water it?",
        Deed.CoverOn => "Is the cover on?",
        Deed.CoverOff => "Is the cover off?",
        Deed.PinsSeen => "Did you see pins?",
        _ => "Put it off?",
    };

    public override string DeedDoneTitle(Deed deed) => deed switch
    {
        Deed.Watered => "Watered",
        Deed.CoverOn => "The cover is on",
        Deed.CoverOff => "The cover is off",
        Deed.PinsSeen => "Pins seen",
        _ => "Put off",
    };

    public override string DeedButton(Deed deed) => deed switch
    {
        Deed.Watered => "Yes, I watered it",
        Deed.CoverOn => "Yes, it is on",
        Deed.CoverOff => "Yes, it is off",
        Deed.PinsSeen => "Yes, I saw pins",
        _ => "Tell me again then",
    };

    public override string DeedRefusedTitle(DeedState state) => state switch
    {
        DeedState.Expired => "This link is too old",
        DeedState.NotMember => "This link opens nothing now",
        DeedState.NotTheirs => "Not yours to record",
        DeedState.BedRetired => "The bed was given up",
        DeedState.Ended => "This is settled",
        _ => "This link is not known",
    };

    public override string DeedRefusedSaid(DeedState state) => state switch
    {
        DeedState.Expired => "Links in a mail act for three days. Nothing was recorded. Sign in to write it into the log of the bed.",
        DeedState.NotMember => "The person whose mail it stood in is not let in at present. Nothing was recorded. Ask the coordinator of the cooperative.",
        DeedState.NotTheirs => "The person whose mail it stood in may not do this at that bed now. Nothing was recorded.",
        DeedState.BedRetired => "Nothing more is recorded for it from a mail.",
        DeedState.Ended => "What the mail told of has ended.",
        _ => "It may have been cut off or changed on its way, or is from before the service got new keys. Open it from the mail once more, or sign in and write it into the log of the bed.",
    };

    public override string DeedBed => "Bed";

    public override string DeedSite => "Site";

    public override string DeedEntry => "Written down";

    public override string DeedNotice => "About";

    public override string DeedFor => "In the name of";

    public override string DeedSaid => "Nothing is written down before you press the button, and it can be undone.";

    public override string DeedSnoozeSaid => "Only you are told later; others who look after the bed are told as before.";

    public override string DeedOtherAmount => "It was another amount";

    public override string DeedChanged => "It has changed since your mail was written. Here stands what holds now.";

    public override string DeedLookAgain => "It changed while you were looking, and nothing was written down. Look once more.";

    public override string DeedRecorded(LocalDateTime at, LocalDate today) => $"Written down: {When(at, today)}.";

    public override string DeedPutOff(LocalDate until, LocalDate today) => $"You are told again on {Date(until)}, if it still holds.";

    public override string DeedUndone(LocalDateTime at, LocalDate today) => $"Undone: {When(at, today)}. It is as if it had never been written down.";

    public override string DeedCorrected => "It was corrected since, on the page of the bed.";

    public override string DeedDoneSaid => "Everything else is on its page:";

    public override string DeedOpenBed => "Open the bed";

    public override string DeedDoneBy(string name, LocalDateTime at, LocalDate today) => $"{name} has written the same down: {When(at, today)}.";

    public override string DeedNothingChanged => "Nothing was written down now. If you have done it as well, write it into the log of the bed.";

    public override string DeedUntilWhen => "Tell me again";

    public override string DeedInDays(int days, LocalDate day) => days switch
    {
        1 => $"Tomorrow, {Date(day)}",
        7 => $"In a week, {Date(day)}",
        _ => $"In {Number(days)} days, {Date(day)}",
    };

    public override string DeedTooLate => "After the last day on which it helps.";
}
