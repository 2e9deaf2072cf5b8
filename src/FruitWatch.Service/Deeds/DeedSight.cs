using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Store.Entities;
using NodaTime;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Deeds;

/// <summary>What a link of a mail leads to, as things stand.</summary>
internal enum DeedState
{
    /// <summary>Not ours, changed on the way, or made with keys that the service no longer has.</summary>
    Unknown,

    /// <summary>Too old.</summary>
    Expired,

    /// <summary>Whose it was is no member any more, or is not let in at present.</summary>
    NotMember,

    /// <summary>The notice is about nothing that they may still do this to.</summary>
    NotTheirs,

    /// <summary>The bed was given up.</summary>
    BedRetired,

    /// <summary>The notice has ended by itself, or by somebody else.</summary>
    Ended,

    /// <summary>Can be done: its button is shown.</summary>
    Ready,

    /// <summary>Was done by this link, and counts.</summary>
    Done,
}

/// <summary>All that the page of a link shows; read, and nothing changed by it.</summary>
internal sealed record DeedSight(DeedState State)
{
    /// <summary>What the link says; null where it is not ours.</summary>
    public DeedLink? Link { get; init; }

    /// <summary>Whose link it is.</summary>
    public Person? Person { get; init; }

    public Site? Site { get; init; }

    public Bed? Bed { get; init; }

    public Species? Species { get; init; }

    public IssuedNotice? Notice { get; init; }

    public NoticeDraft? Draft { get; init; }

    /// <summary>The local day at the bed.</summary>
    public LocalDate Today { get; init; }

    /// <summary>The entry that was made, or would be; null where none is.</summary>
    public LogRow? Entry { get; init; }

    /// <summary>When it was done.</summary>
    public LocalDateTime? DoneAt { get; init; }

    /// <summary>Until when it was put off.</summary>
    public LocalDate? Until { get; init; }

    /// <summary>When it was taken back; null where it never was.</summary>
    public LocalDateTime? UndoneAt { get; init; }

    /// <summary>Somebody has corrected the entry since.</summary>
    public bool Corrected { get; init; }

    /// <summary>Who has done the same from a mail today, where that is why it has ended.</summary>
    public string? DoneBy { get; init; }

    /// <summary>The notice asks for something else than the mail that the link stands in.</summary>
    public bool Changed { get; init; }

    /// <summary>The notice changed between looking and pressing: look again.</summary>
    public bool LookAgain { get; init; }

    /// <summary>No day was chosen until when to put it off.</summary>
    public bool NoDay { get; init; }

    /// <summary>Whether it can be taken back here.</summary>
    public bool MayUndo => State == DeedState.Done && !Corrected && !Past;

    /// <summary>The link's time is over.</summary>
    public bool Past { get; init; }
}
