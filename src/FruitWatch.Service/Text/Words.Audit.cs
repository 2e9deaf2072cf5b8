namespace FruitWatch.Service.Text;

// Who did what.
internal abstract partial class Words
{
    public abstract string AuditTitle { get; }

    public abstract string AuditLead { get; }

    public abstract string AuditNone { get; }

    public abstract string AuditPerson { get; }

    public abstract string AuditAnybody { get; }

    public abstract string AuditSubjectLabel { get; }

    public abstract string AuditAnything { get; }

    public abstract string AuditSince { get; }

    public abstract string AuditShow { get; }

    public abstract string AuditService { get; }

    public abstract string AuditWhen { get; }

    public abstract string AuditWho { get; }

    public abstract string AuditWhat { get; }

    public abstract string AuditDetails { get; }

    /// <summary>A text field that changed.</summary>
    public abstract string AuditNewText { get; }

    /// <summary>A member who was removed.</summary>
    public abstract string AuditGone(long key);

    /// <summary>Which way somebody came.</summary>
    public abstract string AuditVia(string via);

    /// <summary>What something was done to; a subject without a word of its own is told by its name.</summary>
    public abstract string AuditSubject(string subject);

    /// <summary>What was done; a deed without a word of its own is told by its name.</summary>
    public abstract string AuditDeed(string deed);
}
