namespace FruitWatch.Model.Notices;

/// <summary>What a notice tells a grower. Names are kept in the store: they may be added to, never changed.</summary>
public enum NoticeKind : byte
{
    /// <summary>Water the bed.</summary>
    Water,

    /// <summary>Give no water: the bed is too wet.</summary>
    HoldWater,

    /// <summary>Put the cover on.</summary>
    CoverOn,

    /// <summary>Take the cover off.</summary>
    CoverOff,

    /// <summary>Frost ahead: welcome to a bed that waits for it, a threat to a flush.</summary>
    FrostAhead,

    /// <summary>Heat ahead.</summary>
    HeatAhead,

    /// <summary>Pins are likely.</summary>
    ExpectPins,

    /// <summary>A flush is likely to be ready to pick.</summary>
    ExpectHarvest,

    /// <summary>Have a look at the bed.</summary>
    WeeklyCheck,

    /// <summary>Give the bed its fresh material of the year.</summary>
    YearlyFeeding,

    /// <summary>The filling has given what it can.</summary>
    Spent,

    /// <summary>Wind ahead that lifts the cover.</summary>
    StormAhead,
}

/// <summary>What holds for all notices of a kind.</summary>
public static class NoticeKinds
{
    /// <summary>Kinds of which some cannot wait for the next morning.</summary>
    public static IReadOnlyList<NoticeKind> MayBeUrgent { get; } = [NoticeKind.FrostAhead, NoticeKind.HeatAhead, NoticeKind.StormAhead];

    /// <summary>
    /// Whether the notice makes somebody think of eating: it must then carry the words on knowing every mushroom with certainty.
    /// </summary>
    public static bool NeedsEatingCaution(this NoticeKind kind) => kind is NoticeKind.ExpectPins or NoticeKind.ExpectHarvest;
}
