using System.ComponentModel;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>What a member wants to be told, as it is sent: by a program in JSON, or by themself in a form.</summary>
[Description("What somebody wants to be told of, and when. A change names all fields: what is left out goes back to its default, but for siteIds.")]
internal sealed record PersonWishes(
    [property: Description("The morning mail; every-morning where left out.")] DigestWish? Digests,
    [property: Description("What cannot wait for the next morning; in-waking-hours where left out.")] UrgentWish? Urgent,
    [property: Description("Kinds of notices that they are not told of. The words on eating stand beside every notice of pins and harvest that they are told of.")]
    IReadOnlyList<NoticeKind>? KindsLeftOut,
    [property: Description("Sites they are told about; as they are where left out. A farm hand's are named by the coordinator, and sites of own beds stay.")]
    IReadOnlyList<long>? SiteIds,
    [property: Description("Beds of those sites that they are not told of; none where left out. A bed that is added later they are told of.")] IReadOnlyList<long>? BedsLeftOut,
    [property: Description("First local day of a pause; null for none.")] LocalDate? AwayFrom,
    [property: Description("Last local day of the pause, at most a year after the first.")] LocalDate? AwayUntil,
    [property: Description("Key of the member who is told in their place during the pause: one who may see all beds of the cooperative, as coordinators and viewers may, and growers where they read each other's beds; null for nobody.")]
    long? DeputyId) : IReadBody<PersonWishes>
{
    public const int MostSites = 500;

    public const int MostBeds = 1000;

    /// <summary>A pause takes no longer. [d]</summary>
    public const int LongestPause = 366;

    public static PersonWishes Read(JsonFields fields) => Of(fields, fields.Words<NoticeKind>("kindsLeftOut"));

    /// <summary>As it stands in a form: there the kinds and beds are ticked that somebody is told of.</summary>
    public static PersonWishes Of(FormFields form, Person row) => Of(form, LeftOut(form)) with
    {
        // What does not stand in the form stays as it is.
        BedsLeftOut = [.. row.BedsLeftOut.Select(one => one.BedId).Except(BedTicks.Shown(form)), .. BedTicks.LeftOut(form)],
    };

    /// <summary>The kinds of a form that are not ticked.</summary>
    public static IReadOnlyList<NoticeKind> LeftOut(FormFields form) =>
        [.. Enum.GetValues<NoticeKind>().Where(kind => !form.Holds("kinds", NoticeRows.WordOf(kind)))];

    /// <summary>Kinds as a member keeps them.</summary>
    public static string Kept(IEnumerable<NoticeKind> kinds) => string.Join(' ', kinds.Distinct().Order().Select(NoticeRows.WordOf));

    /// <summary>Kinds that a member has left out.</summary>
    public static IReadOnlyList<NoticeKind> LeftOut(Person row) =>
        [.. row.KindsLeftOut.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(NoticeRows.KindOf)];

    public void Put(Person row)
    {
        row.Digests = Digests ?? default;
        row.Urgent = Urgent ?? default;
        row.KindsLeftOut = Kept(KindsLeftOut ?? []);
        row.AwayFrom = AwayFrom;
        row.AwayUntil = AwayUntil;
        row.DeputyId = DeputyId;
    }

    private static PersonWishes Of(IFields fields, IReadOnlyList<NoticeKind>? leftOut)
    {
        var wishes = new PersonWishes(
            fields.Word<DigestWish>("digests"),
            fields.Word<UrgentWish>("urgent"),
            leftOut,
            fields.Ids("siteIds", MostSites),
            fields.Ids(BedTicks.ProblemField, MostBeds),
            fields.Date("awayFrom"),
            fields.Date("awayUntil"),
            fields.Id("deputyId"));
        if (!fields.Good)
            return wishes;
        if (wishes.AwayFrom is null != wishes.AwayUntil is null)
            fields.Refuse(wishes.AwayFrom is null ? "awayFrom" : "awayUntil", words => words.WishesBothDays);
        else if (wishes is { AwayFrom: { } from, AwayUntil: { } until } && (until < from || Period.DaysBetween(from, until) >= LongestPause))
            fields.Refuse("awayUntil", words => words.WishesPauseWithin);
        if (wishes is { DeputyId: not null, AwayFrom: null, AwayUntil: null })
            fields.Refuse("deputyId", words => words.WishesDeputyNeedsDays);
        return wishes;
    }
}

/// <summary>What a member wants to be told, as the API gives it.</summary>
[Description("What somebody wants to be told of, and when.")]
internal sealed record PersonWishesBody(
    [property: Description("The morning mail.")] DigestWish Digests,
    [property: Description("What cannot wait for the next morning.")] UrgentWish Urgent,
    [property: Description("Kinds of notices that they are not told of.")] IReadOnlyList<NoticeKind> KindsLeftOut,
    [property: Description("Sites they are told about.")] IReadOnlyList<long> SiteIds,
    [property: Description("Beds of those sites that they are not told of.")] IReadOnlyList<long> BedsLeftOut,
    [property: Description("First local day of a pause; null for none.")] LocalDate? AwayFrom,
    [property: Description("Last local day of the pause.")] LocalDate? AwayUntil,
    [property: Description("Key of the member who is told in their place during the pause; null for nobody.")] long? DeputyId,
    [property: Description("Since when nothing is sent to their address, because mail to it came back; null while it works.")] Instant? MailPausedAt,
    [property: Description("What the other server said; null while the address works.")] string? MailPausedWhy)
{
    public static PersonWishesBody Of(Person row) => new(
        row.Digests,
        row.Urgent,
        PersonWishes.LeftOut(row),
        [.. row.Sites.Select(told => told.SiteId).Order()],
        [.. row.BedsLeftOut.Select(one => one.BedId).Order()],
        row.AwayFrom,
        row.AwayUntil,
        row.DeputyId,
        row.MailPausedAt,
        row.MailPausedWhy);
}
