namespace FruitWatch.Service.Digests;

/// <summary>
/// A digest in words, in the order in which it is read, not yet text or HTML. Both are made from it, so that both say the same.
/// Public, with its parts, because the components that show it are.
/// </summary>
/// <param name="Language">Two-letter code.</param>
/// <param name="Subject">Subject of the mail.</param>
/// <param name="Preheader">What a list of mails shows after the subject.</param>
/// <param name="Cooperative">Who sends it.</param>
/// <param name="Title">The day.</param>
/// <param name="Greeting">To the person.</param>
/// <param name="Summary">What it holds, in numbers.</param>
/// <param name="Sites">Site by site.</param>
/// <param name="Page">Link to the pages.</param>
/// <param name="Credits">Credit for the weather; links in it are in full.</param>
/// <param name="Foot">Last lines.</param>
public sealed record Letter(
    string Language,
    string Subject,
    string Preheader,
    string Cooperative,
    string Title,
    string Greeting,
    string Summary,
    IReadOnlyList<LetterSite> Sites,
    LetterLink Page,
    IReadOnlyList<string> Credits,
    IReadOnlyList<string> Foot)
{
    /// <summary>Links after the last lines: to what the person is told, and to end such letters.</summary>
    public IReadOnlyList<LetterLink> Ways { get; init; } = [];
}

/// <summary>A site in a letter.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Weather">Today's weather.</param>
/// <param name="Warning">What is wrong with its forecast; null where nothing is.</param>
/// <param name="Quiet">That nothing is to be done; null where something is.</param>
/// <param name="ToDo">What to do, most urgent first.</param>
/// <param name="Coming">What to expect, soonest first.</param>
/// <param name="StillOpen">Told before.</param>
/// <param name="NoLongerNeeded">Told before, and taken back.</param>
/// <param name="Beds">Bed by bed; a line to say so where they were left out.</param>
/// <param name="NextDays">Weather of the next days.</param>
public sealed record LetterSite(
    string Name,
    string Weather,
    string? Warning,
    string? Quiet,
    LetterNotices ToDo,
    LetterNotices Coming,
    LetterLines StillOpen,
    LetterLines NoLongerNeeded,
    LetterLines Beds,
    LetterLines NextDays);

/// <summary>Notices under a heading.</summary>
/// <param name="Heading">The heading.</param>
/// <param name="InFull">Notices told in full.</param>
/// <param name="InBrief">Further ones, when there are too many for a mail.</param>
public sealed record LetterNotices(string Heading, IReadOnlyList<LetterNotice> InFull, IReadOnlyList<LetterLine> InBrief)
{
    public bool Any => InFull.Count + InBrief.Count > 0;
}

/// <summary>A notice told in full.</summary>
/// <param name="Urgency">How soon.</param>
/// <param name="Mark">How soon, in words; and that it has changed, where it has.</param>
/// <param name="Bed">The bed.</param>
/// <param name="Species">What grows there.</param>
/// <param name="Headline">What to do or to expect.</param>
/// <param name="Terms">Until when, and how sure.</param>
/// <param name="Reason">Why.</param>
/// <param name="Caution">What must stand beside it; null where nothing must.</param>
public sealed record LetterNotice(
    Urgency Urgency, string Mark, LetterLink Bed, string Species, string Headline, string Terms, string Reason, LetterCaution? Caution)
{
    /// <summary>What the reader can say with one tap.</summary>
    public IReadOnlyList<LetterLink> Deeds { get; init; } = [];
}

/// <summary>A caution.</summary>
/// <param name="Heading">The heading.</param>
/// <param name="Sentences">One by one.</param>
public sealed record LetterCaution(string Heading, IReadOnlyList<string> Sentences);

/// <summary>Lines under a heading.</summary>
/// <param name="Heading">The heading.</param>
/// <param name="Lines">The lines.</param>
public sealed record LetterLines(string Heading, IReadOnlyList<LetterLine> Lines);

/// <summary>A line about something.</summary>
/// <param name="About">What about.</param>
/// <param name="Text">The line.</param>
/// <param name="Caution">What must stand beside it; null where nothing must.</param>
public sealed record LetterLine(LetterLink About, string Text, string? Caution = null);

/// <summary>Words that lead somewhere.</summary>
/// <param name="Words">The words.</param>
/// <param name="Address">Where to; null for words alone.</param>
public sealed record LetterLink(string Words, string? Address = null);

/// <summary>How soon something is to be done.</summary>
public enum Urgency
{
    /// <summary>It cannot wait: a flush or young spawn is at stake.</summary>
    AtOnce,

    /// <summary>Today.</summary>
    Today,

    /// <summary>In the next days.</summary>
    Soon,

    /// <summary>Nothing to do yet but to look forward.</summary>
    Ahead,
}
