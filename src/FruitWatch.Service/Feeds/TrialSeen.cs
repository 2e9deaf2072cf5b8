using FruitWatch.Feeds;
using FruitWatch.Service.Weather;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Feeds;

/// <summary>What a description makes of an answer, before either counts.</summary>
/// <param name="Draft">What is tried.</param>
/// <param name="Site">For which place.</param>
/// <param name="Description">Its description, read.</param>
internal sealed record TrialSeen(FeedDraft Draft, Site Site, FeedDescription Description)
{
    /// <summary>Days before today that are shown; a history holds decades.</summary>
    private const int PastDaysShown = 30;

    /// <summary>Null while there is no answer, or where it was refused.</summary>
    public FeedReading? Reading { get; init; }

    /// <summary>All days of the reading.</summary>
    public IReadOnlyList<TrialDay> Days { get; init; } = [];

    public IReadOnlyList<(LocalDate First, LocalDate Last)> Gaps { get; init; } = [];

    /// <summary>What the transfer told, when the answer has just come.</summary>
    public IReadOnlyList<FeedProblem> TransferNotes { get; init; } = [];

    public IReadOnlyList<TrialWarning> Warnings { get; init; } = [];

    /// <summary>A doubt about a unit, with the change of the description that would mend it; null where there is none.</summary>
    public FeedQuestion? Question { get; init; }

    /// <summary>Length of the answer, unpacked. [B]</summary>
    public int? Length { get; init; }

    /// <summary>The beginning of the answer, without the key. Foreign text.</summary>
    public string? Head { get; init; }

    /// <summary>Why there are no days; null where there are, or where nobody has asked yet.</summary>
    public TrialRefusal? Refusal { get; init; }

    /// <summary>The answer came for this look; otherwise the one that was kept was read again.</summary>
    public bool JustAsked { get; init; }

    /// <summary>The description now asks for something else than what the answer was the answer to.</summary>
    public bool RequestChanged { get; init; }

    /// <summary>A key was dropped because the description now sends it to another host than the one it was given for.</summary>
    public bool KeyDropped { get; init; }

    /// <summary>May be saved as it is, once the questions are answered.</summary>
    public bool Good => Refusal is null && !RequestChanged && Days.Any(day => day.Counts);

    public bool NeedsKey => Description.NeedsKey && Draft.SealedKey is null;

    public bool NeedsStation => Description.NeedsStation && (Draft.Station ?? Site.Station) is null;

    public bool NeedsFile => Description.IsUpload && Draft.Body is null;

    /// <summary>The days that a page or an answer shows: those ahead and the last ones gone by.</summary>
    public IReadOnlyList<TrialDay> Shown =>
        Reading is null ? [] : [.. Days.Where(day => day.Date < Reading.Today).TakeLast(PastDaysShown), .. Days.Where(day => day.Date >= Reading.Today)];
}

/// <summary>Why a trial gave no days.</summary>
/// <param name="Code">One of <see cref="FeedCodes"/>, or <see cref="TooLongToKeep"/>.</param>
/// <param name="Sentence">What was wrong.</param>
/// <param name="Place">Where.</param>
/// <param name="Mend">What to do.</param>
/// <param name="Status">HTTP status, where the server gave one.</param>
/// <param name="RetryAfter">How long to leave the host alone.</param>
/// <param name="Evidence">What the refused answer looked like.</param>
internal sealed record TrialRefusal(
    string Code, string Sentence, string Place, string Mend, int? Status, Duration? RetryAfter, FeedEvidence? Evidence)
{
    /// <summary>The answer is longer, even packed, than a draft keeps.</summary>
    public const string TooLongToKeep = "trial.tooLong";

    public static TrialRefusal Of(FeedException refusal) =>
        new(refusal.Code, refusal.Sentence, refusal.Place, refusal.Mend, refusal.Status, refusal.RetryAfter, refusal.Evidence);

    public static TrialRefusal TooLong(string place) => new(
        TooLongToKeep,
        FormattableString.Invariant($"The answer is longer than the {FeedAnswers.MostBytes / 1024 / 1024} MiB, packed, that are kept for a look."),
        place,
        "Ask for fewer days, or hand in a shorter part of the file: a description that reads a part reads the whole.",
        null,
        null,
        null);
}

/// <summary>Something about an answer that is not wrong in itself, but may be about another place.</summary>
/// <param name="Code"><c>place.far</c> in km, or <c>place.height</c> in m.</param>
/// <param name="Amount">How far off.</param>
/// <param name="Place">What the answer says of its place.</param>
internal sealed record TrialWarning(string Code, double Amount, AnswerPlace Place)
{
    public const string Far = "place.far";

    public const string Height = "place.height";
}
