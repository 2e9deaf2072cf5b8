using NodaTime;

namespace FruitWatch.Model.Notices;

/// <summary>The rule of one kind of notice: when it holds, how it ends, which change of it is worth telling. Without state of its own.</summary>
/// <param name="kind">The kind.</param>
/// <remarks>
/// A rule lets an open notice hold on a little longer than it takes to open one, so that a bed at the edge of a threshold does
/// not get a notice and its withdrawal in turn. Whatever opens a notice also keeps it.
/// </remarks>
public abstract class NoticeRule(NoticeKind kind)
{
    /// <summary>The kind.</summary>
    public NoticeKind Kind { get; } = kind;

    /// <summary>Whether it looks ahead: without a forecast such a notice is neither opened nor closed.</summary>
    public virtual bool LooksAhead => true;

    /// <summary>The notice as it stands this morning, or null where it does not hold.</summary>
    /// <param name="morning">The bed.</param>
    /// <param name="open">The open notice of this kind, if there is one.</param>
    /// <param name="last">The last closed notice of this kind, if there was one.</param>
    public abstract NoticeDraft? Holds(BedMorning morning, OpenNotice? open, ClosedNotice? last);

    /// <summary>How an open notice ended that does not hold any more.</summary>
    /// <param name="morning">The bed.</param>
    /// <param name="open">The notice.</param>
    public abstract (NoticeEnd How, ClosingCode Why) Ending(BedMorning morning, OpenNotice open);

    /// <summary>Whether a notice that holds has changed so much that it must be told again: by default, when it presses sooner by two days or more.</summary>
    /// <param name="morning">The bed.</param>
    /// <param name="told">As it was told.</param>
    /// <param name="now">As it stands.</param>
    public virtual bool WorthTelling(BedMorning morning, OpenNotice told, NoticeDraft now) =>
        Period.DaysBetween(now.Deadline, told.Deadline) > 1;

    /// <summary>Whether a spell goes on without a break from one day to another, both included.</summary>
    private protected static bool Unbroken(LocalDate from, LocalDate to, Func<LocalDate, bool> holds)
    {
        for (var date = from; date <= to; date = date.PlusDays(1))
        {
            if (!holds(date))
                return false;
        }

        return true;
    }
}
