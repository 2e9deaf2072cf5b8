namespace FruitWatch.Model.Notices;

/// <summary>What becomes of one kind of notice this morning.</summary>
/// <param name="Kind">Which kind.</param>
public abstract record NoticeOutcome(NoticeKind Kind);

/// <summary>A new notice: to be told.</summary>
/// <param name="Kind">Which kind.</param>
/// <param name="Episode">Which of the bed's notices of this kind, from 1.</param>
/// <param name="Draft">The notice.</param>
public sealed record NoticeOpened(NoticeKind Kind, int Episode, NoticeDraft Draft) : NoticeOutcome(Kind);

/// <summary>An open notice still holds, without a change worth telling. What was told stays as it is in the store.</summary>
/// <param name="Kind">Which kind.</param>
/// <param name="Id">The open notice.</param>
public sealed record NoticeKept(NoticeKind Kind, long Id) : NoticeOutcome(Kind);

/// <summary>An open notice holds with a change worth telling: the draft takes the place of what was told.</summary>
/// <param name="Kind">Which kind.</param>
/// <param name="Id">The open notice.</param>
/// <param name="Draft">What it is now.</param>
public sealed record NoticeRevised(NoticeKind Kind, long Id, NoticeDraft Draft) : NoticeOutcome(Kind);

/// <summary>An open notice has ended.</summary>
/// <param name="Kind">Which kind.</param>
/// <param name="Id">The open notice.</param>
/// <param name="How">Done, withdrawn or lapsed.</param>
/// <param name="Why">Why.</param>
public sealed record NoticeClosed(NoticeKind Kind, long Id, NoticeEnd How, ClosingCode Why) : NoticeOutcome(Kind);
