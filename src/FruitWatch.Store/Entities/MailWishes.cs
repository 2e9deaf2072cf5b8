namespace FruitWatch.Store.Entities;

/// <summary>When somebody wants the morning mail.</summary>
public enum DigestWish : byte
{
    /// <summary>Every morning.</summary>
    EveryMorning,

    /// <summary>When there is something to tell; quiet mornings are skipped.</summary>
    WhenThereIsNews,

    /// <summary>Not at all.</summary>
    Never,
}

/// <summary>When somebody wants to be told at once of what cannot wait for the next morning.</summary>
public enum UrgentWish : byte
{
    /// <summary>Outside their quiet hours.</summary>
    InWakingHours,

    /// <summary>At any hour.</summary>
    AtAnyHour,

    /// <summary>Not at all; the next morning mail tells of it.</summary>
    Never,
}
