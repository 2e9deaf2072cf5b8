using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Log;
using FruitWatch.Service.Notices;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Pages;

/// <summary>A notice on a page, with the bed that it is about.</summary>
internal sealed record NoticeShown(IssuedNotice Row, NoticeDraft Draft, SiteBook Site, BedBook Bed)
{
    public static NoticeShown Of(IssuedNotice row, SiteBook site, BedBook bed) => new(row, NoticeRows.Draft(row), site, bed);

    /// <summary>Whether the visitor may write the bed's log.</summary>
    public bool MayLog { get; init; }

    public LocalDate Today => Site.Today;

    /// <summary>Its time has come: today is its day, or within its window.</summary>
    public bool IsDue => Draft.Urgent || Draft.From <= Today;

    public Urgency Urgency =>
        Draft.Deadline < Today ? Urgency.Overdue
        : Draft.Urgent || Draft.Deadline == Today ? Urgency.Now
        : IsDue ? Urgency.Soon
        : Urgency.Ahead;

    /// <summary>The kind of log entry by which somebody says that it was done or seen; null where there is none.</summary>
    public string? LogKind => Draft.Kind switch
    {
        NoticeKind.Water => LogKinds.Watered,
        NoticeKind.HoldWater or NoticeKind.WeeklyCheck => LogKinds.Squeeze,
        NoticeKind.CoverOn or NoticeKind.CoverOff or NoticeKind.FrostAhead or NoticeKind.HeatAhead or NoticeKind.StormAhead => LogKinds.Cover,
        NoticeKind.ExpectPins => LogKinds.Pins,
        NoticeKind.ExpectHarvest => LogKinds.Picked,
        NoticeKind.YearlyFeeding => LogKinds.ToppedUp,
        NoticeKind.Spent => LogKinds.Spent,
        _ => null,
    };
}

/// <summary>How soon something is to be done.</summary>
internal enum Urgency
{
    /// <summary>Its deadline has passed.</summary>
    Overdue,

    /// <summary>Today, or it cannot wait.</summary>
    Now,

    /// <summary>It can be done today and may wait some days.</summary>
    Soon,

    /// <summary>Not yet.</summary>
    Ahead,
}
