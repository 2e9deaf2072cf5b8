using FruitWatch.Service.Deeds;
using NodaTime;

namespace FruitWatch.Service.Text;

// What links of mails do, and the pages that they lead to.
internal abstract partial class Words
{
    /// <summary>A deed as the button of a mail has it, such as "Watered".</summary>
    public abstract string NameOf(Deed deed);

    /// <summary>Heading of the page that asks.</summary>
    public abstract string DeedTitle(Deed deed);

    /// <summary>Heading once it is done.</summary>
    public abstract string DeedDoneTitle(Deed deed);

    /// <summary>The one button.</summary>
    public abstract string DeedButton(Deed deed);

    /// <summary>Heading where nothing can be done.</summary>
    public abstract string DeedRefusedTitle(DeedState state);

    /// <summary>Why nothing can be done, and what to do instead.</summary>
    public abstract string DeedRefusedSaid(DeedState state);

    public abstract string DeedBed { get; }

    public abstract string DeedSite { get; }

    /// <summary>What is written into the log.</summary>
    public abstract string DeedEntry { get; }

    /// <summary>What the notice asks.</summary>
    public abstract string DeedNotice { get; }

    /// <summary>In whose name.</summary>
    public abstract string DeedFor { get; }

    /// <summary>What the button does.</summary>
    public abstract string DeedSaid { get; }

    public abstract string DeedSnoozeSaid { get; }

    public abstract string DeedOtherAmount { get; }

    /// <summary>The notice has changed since the mail.</summary>
    public abstract string DeedChanged { get; }

    /// <summary>The notice has changed between looking and pressing.</summary>
    public abstract string DeedLookAgain { get; }

    public abstract string DeedRecorded(LocalDateTime at, LocalDate today);

    public abstract string DeedPutOff(LocalDate until, LocalDate today);

    public abstract string DeedUndone(LocalDateTime at, LocalDate today);

    public abstract string DeedCorrected { get; }

    public abstract string DeedDoneSaid { get; }

    public abstract string DeedOpenBed { get; }

    public abstract string DeedDoneBy(string name, LocalDateTime at, LocalDate today);

    public abstract string DeedNothingChanged { get; }

    public abstract string DeedUntilWhen { get; }

    public abstract string DeedInDays(int days, LocalDate day);

    /// <summary>The day lies after the deadline.</summary>
    public abstract string DeedTooLate { get; }
}
