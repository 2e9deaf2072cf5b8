using FruitWatch.Model.Account;

namespace FruitWatch.Model.Notices;

/// <summary>
/// Compares what the rules say this morning with what was told before: a notice is told once, withdrawn when it no longer
/// holds, and not repeated until something changes.
/// </summary>
public static class NoticeBook
{
    /// <summary>What becomes of a bed's notices this morning.</summary>
    /// <param name="morning">The bed.</param>
    /// <param name="open">The bed's open notices, at most one of a kind.</param>
    /// <param name="closed">The bed's last closed notice of every kind; older ones do no harm.</param>
    /// <returns>One outcome for every open notice and for every new one, what presses first in front.</returns>
    /// <remarks>Run again on the same morning, with what it opened, revised and closed fed back, it keeps everything.</remarks>
    /// <exception cref="ArgumentException">Two notices of a kind are open.</exception>
    public static IReadOnlyList<NoticeOutcome> Reconcile(
        BedMorning morning, IReadOnlyCollection<OpenNotice> open, IReadOnlyCollection<ClosedNotice> closed)
    {
        ArgumentNullException.ThrowIfNull(morning);
        ArgumentNullException.ThrowIfNull(open);
        ArgumentNullException.ThrowIfNull(closed);

        var outcomes = new List<NoticeOutcome>();
        foreach (var rule in NoticeRules.All)
        {
            var told = open.Where(n => n.Kind == rule.Kind).ToList();
            if (told.Count > 1)
                throw new ArgumentException($"{told.Count} notices of the kind {rule.Kind} are open for one bed; there can be one.", nameof(open));
            var last = closed.Where(n => n.Kind == rule.Kind).MaxBy(n => n.Episode);
            if (Judge(rule, morning, told.SingleOrDefault(), last) is { } outcome)
                outcomes.Add(outcome);
        }

        return outcomes;
    }

    private static NoticeOutcome? Judge(NoticeRule rule, BedMorning morning, OpenNotice? told, ClosedNotice? last)
    {
        // A bed that was given up is left in peace, but for what to do with its filling.
        if (morning.Phase == Phase.Spent && rule.Kind != NoticeKind.Spent)
            return told is null ? null : new NoticeClosed(rule.Kind, told.Id, NoticeEnd.Withdrawn, ClosingCode.BedSpent);
        // No forecast is no reason to withdraw what a forecast gave.
        if (rule.LooksAhead && !morning.HasForecast)
            return told is null ? null : new NoticeKept(rule.Kind, told.Id);

        var now = rule.Holds(morning, told, last);
        if (told is null)
            return now is null || IsRepeat(morning, now, last) ? null : new NoticeOpened(rule.Kind, (last?.Episode ?? 0) + 1, now);
        if (now is not null)
            return rule.WorthTelling(morning, told, now) ? new NoticeRevised(rule.Kind, told.Id, now) : new NoticeKept(rule.Kind, told.Id);

        var (how, why) = rule.Ending(morning, told);
        return new NoticeClosed(rule.Kind, told.Id, how, why);
    }

    /// <summary>What was closed today is not told again today, unless it cannot wait.</summary>
    private static bool IsRepeat(BedMorning morning, NoticeDraft now, ClosedNotice? last) =>
        last?.ClosedOn == morning.Today && !now.Urgent;
}
