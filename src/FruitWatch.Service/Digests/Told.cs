using FruitWatch.Model.Notices;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Notices;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Digests;

/// <summary>A notice of a digest with its bed, as the words need it.</summary>
/// <param name="Bed">The bed.</param>
/// <param name="Item">The notice as kept, and why it stands in this digest.</param>
/// <param name="Draft">The same notice, read.</param>
internal sealed record Told(DigestBed Bed, DigestItem Item, NoticeDraft Draft)
{
    /// <summary>Its bed's name, fit for a line.</summary>
    public string BedName => OneLine.Of(Bed.Name, 80);

    public bool IsNews => Item.Role is DigestRole.New or DigestRole.Changed;

    /// <summary>Dates between which pins or a flush are expected.</summary>
    public bool IsWindow => Draft.Kind is NoticeKind.ExpectPins or NoticeKind.ExpectHarvest && Draft.Reason.Code != ReasonCode.FlushReady;

    /// <summary>Something to look forward to, with nothing to do about it yet.</summary>
    public bool IsAhead => !Draft.Urgent && Draft switch
    {
        _ when IsWindow => true,
        { Reason.Code: ReasonCode.FrostTriggers } => Draft.Reason[ReasonNumber.Covered] == 0,
        _ => false,
    };

    public static IReadOnlyList<Told> Of(DigestSite site) =>
        [.. site.Beds.SelectMany(bed => bed.Items.Select(item => new Told(bed, item, NoticeRows.Draft(item.Notice))))];

    public Urgency Urgency(LocalDate today) =>
        Draft.Urgent ? Digests.Urgency.AtOnce
        : IsAhead ? Digests.Urgency.Ahead
        : Draft.Deadline <= today || Draft.Reason.Code == ReasonCode.FlushReady ? Digests.Urgency.Today
        : Digests.Urgency.Soon;

    /// <summary>The most urgent first; of those that are alike, the one that runs out first.</summary>
    public static IEnumerable<Told> InOrder(IEnumerable<Told> told, LocalDate today) =>
        told.OrderBy(t => t.Urgency(today)).ThenBy(t => t.IsAhead ? t.Draft.From : t.Draft.Deadline).ThenBy(t => t.Draft.Kind).ThenBy(t => t.Bed.Id);
}
