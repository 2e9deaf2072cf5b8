using FruitWatch.Model.Notices;

namespace FruitWatch.Model.Tests.Notices;

/// <summary>Keeps what the book says of one bed, as the store would.</summary>
internal sealed class Shelf
{
    private long nextId = 1;

    public List<OpenNotice> Open { get; } = [];

    public List<ClosedNotice> Closed { get; } = [];

    /// <summary>A morning's outcomes, taken down.</summary>
    public IReadOnlyList<NoticeOutcome> Take(BedMorning morning)
    {
        var outcomes = NoticeBook.Reconcile(morning, [.. Open], [.. Closed]);
        foreach (var outcome in outcomes)
        {
            switch (outcome)
            {
                case NoticeOpened opened:
                    Open.Add(Told(nextId++, opened.Episode, morning.Today, opened.Draft));
                    break;
                case NoticeRevised revised:
                    var old = Open.Single(n => n.Id == revised.Id);
                    Open[Open.IndexOf(old)] = Told(old.Id, old.Episode, old.FirstOn, revised.Draft);
                    break;
                case NoticeClosed closed:
                    var ended = Open.Single(n => n.Id == closed.Id);
                    Open.Remove(ended);
                    Closed.Add(new ClosedNotice(ended.Kind, ended.Episode, ended.FirstOn, morning.Today, closed.How));
                    break;
            }
        }

        return outcomes;
    }

    /// <summary>A morning's outcome for a kind; null where there is nothing to say.</summary>
    public NoticeOutcome? Take(BedMorning morning, NoticeKind kind) => Take(morning).SingleOrDefault(o => o.Kind == kind);

    /// <summary>The draft that a morning opens of a kind.</summary>
    public NoticeDraft Opens(BedMorning morning, NoticeKind kind) => Assert.IsType<NoticeOpened>(Take(morning, kind)).Draft;

    public void Keeps(BedMorning morning, NoticeKind kind) => Assert.IsType<NoticeKept>(Take(morning, kind));

    public void Closes(BedMorning morning, NoticeKind kind, NoticeEnd how, ClosingCode why)
    {
        var closed = Assert.IsType<NoticeClosed>(Take(morning, kind));
        Assert.Equal((how, why), (closed.How, closed.Why));
    }

    public static void IsSilent(BedMorning morning, NoticeKind kind) => Assert.Null(new Shelf().Take(morning, kind));

    private static OpenNotice Told(long id, int episode, NodaTime.LocalDate firstOn, NoticeDraft draft) =>
        new(id, draft.Kind, episode, firstOn, draft.Day, draft.Deadline, draft.Amount, draft.Reason);
}
