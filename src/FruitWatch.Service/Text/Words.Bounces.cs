namespace FruitWatch.Service.Text;

// To coordinators, when somebody's address takes no mail.
internal abstract partial class Words
{
    /// <summary>The matter in one line.</summary>
    public abstract string BounceSubject(string person);

    public abstract string BounceGreeting(string name);

    public abstract string BounceSummary(string person);

    public abstract string BounceAddress(string address);

    /// <summary>Why, in the other server's words.</summary>
    public abstract string BounceReason(string said);

    public abstract string BounceMeaning(string person);

    /// <summary>What to do where the holder has not confirmed the address: a coordinator may change it.</summary>
    public abstract string BounceToDo(string person);

    /// <summary>What to do where the holder has confirmed the address, and alone can change it.</summary>
    public abstract string BounceToDoTheirs(string person);

    public abstract string BounceOpenPerson { get; }

    public abstract string BounceWhyYou(string cooperative);

    public abstract string BounceOnce { get; }
}
