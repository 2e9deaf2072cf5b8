using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using NodaTime;

namespace FruitWatch.Service.Text;

// What is said of a bed and its notices.
internal abstract partial class Words
{
    /// <summary>A phase, such as "spawn run".</summary>
    public abstract string NameOf(Phase phase);

    /// <summary>What holds the score down, such as "waiting for a soaking".</summary>
    /// <param name="limit">Which factor.</param>
    /// <param name="tooWet">For moisture: too wet, not too dry.</param>
    public abstract string NameOf(LimitingFactor limit, bool tooWet = false);

    /// <summary>A kind of notice by itself, such as "Water".</summary>
    public abstract string NameOf(NoticeKind kind);

    /// <summary>A notice in a few words, such as "Water: 25 litres".</summary>
    public abstract string Headline(NoticeDraft notice);

    /// <summary>Why, in one or two sentences with the numbers behind it, and what to do.</summary>
    public abstract string ReasonFor(NoticeDraft notice);

    /// <summary>Until when, such as "by tomorrow evening".</summary>
    public abstract string By(LocalDate deadline, LocalDate today);

    /// <summary>When to do or to look for what a notice is about: its deadline, or what its kind has in place of one.</summary>
    public abstract string When(NoticeDraft notice, LocalDate today);

    /// <summary>Whether the rain to come is so little that no number is given.</summary>
    private protected static bool IsDry(NoticeReason why) => why[ReasonNumber.RainToCome] < 0.5;

    /// <summary>How sure, such as "likely".</summary>
    public abstract string NameOf(NoticeConfidence confidence);

    /// <summary>How a notice ended and why, as a sentence.</summary>
    public abstract string Closing(NoticeEnd how, ClosingCode why);

    /// <summary>
    /// What must stand beside every notice of pins and harvest, sentence by sentence: that a forecast never says a mushroom is
    /// safe, how to know it with certainty, this species' dangerous lookalikes, cooking, small portions, selling.
    /// </summary>
    public abstract IReadOnlyList<string> EatingCaution(Species species);
}
