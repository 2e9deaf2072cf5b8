using FruitWatch.Model.Notices;

namespace FruitWatch.Service.Deeds;

/// <summary>Which deeds a mail offers beside a notice.</summary>
internal static class DeedsOffered
{
    public static IReadOnlyList<Deed> For(NoticeDraft notice) => notice.Kind switch
    {
        NoticeKind.Water => [Deed.Watered, Deed.Snooze],
        NoticeKind.CoverOn => [Deed.CoverOn, Deed.Snooze],
        NoticeKind.CoverOff => [Deed.CoverOff, Deed.Snooze],
        NoticeKind.FrostAhead when notice.Reason.Code == ReasonCode.FrostThreatens && notice.Reason[ReasonNumber.Covered] == 0 => [Deed.CoverOn],
        NoticeKind.FrostAhead when notice.Reason.Code == ReasonCode.FrostTriggers && notice.Reason[ReasonNumber.Covered] == 1 => [Deed.CoverOff, Deed.Snooze],
        NoticeKind.HeatAhead when notice.Reason.Code == ReasonCode.HeatOnYoungSpawn => [Deed.CoverOn],
        NoticeKind.StormAhead => [Deed.CoverOff],
        NoticeKind.ExpectPins => [Deed.PinsSeen, Deed.Snooze],
        NoticeKind.ExpectHarvest or NoticeKind.WeeklyCheck or NoticeKind.YearlyFeeding or NoticeKind.Spent => [Deed.Snooze],
        _ => [],
    };
}
