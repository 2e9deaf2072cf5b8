using FruitWatch.Service.Beds;

namespace FruitWatch.Service.Text;

internal abstract partial class Words
{
    /// <summary>Heading of what a bed's log taught.</summary>
    public abstract string LearnedTitle { get; }

    /// <summary>What a bed's log taught of how it dries and grows, with the range that holds in nine cases of ten.</summary>
    public abstract string LearnedSaid(LearnedBed learned);

    /// <summary>No pair of multipliers comes near the log.</summary>
    public abstract string LearnedDisagrees { get; }
}
