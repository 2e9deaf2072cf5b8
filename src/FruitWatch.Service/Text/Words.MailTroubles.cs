using NodaTime;

namespace FruitWatch.Service.Text;

// On the page of mails, when they do not leave or what comes back is not read.
internal abstract partial class Words
{
    public abstract string TroubleTitle { get; }

    public abstract string TroubleRoute(Instant since);

    public abstract string TroubleAllowance(Instant since);

    public abstract string TroubleMailbox(Instant since);

    /// <summary>What the operator needs to mend it.</summary>
    public abstract string TroubleSaid(string problem);
}
