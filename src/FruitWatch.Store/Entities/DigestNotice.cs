namespace FruitWatch.Store.Entities;

/// <summary>A mail told of a notice. With it, "sent once" is a query and not a hope.</summary>
public sealed class DigestNotice
{
    /// <summary>The mail.</summary>
    public long MailId { get; set; }

    /// <summary>The notice.</summary>
    public long NoticeId { get; set; }

    /// <summary>As what it was told.</summary>
    public DigestRole Role { get; set; }

    /// <summary>Which revision of the notice was told: <see cref="IssuedNotice.Revisions"/> as it was read for the mail.</summary>
    public int Revision { get; set; }
}

/// <summary>As what a mail tells of a notice.</summary>
public enum DigestRole : byte
{
    /// <summary>Told for the first time.</summary>
    New,

    /// <summary>Taken back.</summary>
    Withdrawn,

    /// <summary>Told again because something about it changed.</summary>
    Changed,

    /// <summary>Listed as still open.</summary>
    Open,
}
