using FruitWatch.Service.Access;
using FruitWatch.Service.People;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Html;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.People;

/// <summary>Who is who in the cooperative, and what each of them sees.</summary>
[Right(Right.ManagePeople)]
internal sealed class IndexModel(FruitWatchStore store, Invitations invitations, LinkBook links, Visitor visitor, Words words) : PageModel
{
    private DateTimeZone zone = DateTimeZone.Utc;
    private Dictionary<long, string> sites = [];

    public IReadOnlyList<MemberShown> Members { get; private set; } = [];

    public string? Done { get; private set; }

    public async Task OnGetAsync(string? done, CancellationToken stop)
    {
        Done = done;
        zone = await ZoneOfAsync(store, visitor, stop);
        sites = await store.Sites.AsNoTracking().ToDictionaryAsync(site => site.Id, site => site.Name, stop);
        var open = await invitations.OpenAsync(stop);
        var given = (await store.PersonalLinks.AsNoTracking().ToListAsync(stop)).ToLookup(link => link.PersonId);
        var rows = await store.People.AsNoTracking().Include(row => row.Sites).Include(row => row.Beds).AsSplitQuery().ToListAsync(stop);
        Members =
        [
            .. rows.OrderBy(row => row.Role == Role.Coordinator ? 0 : 1).ThenBy(row => row.Name, StringComparer.Create(words.Culture, ignoreCase: true)).Select(row =>
                new MemberShown(
                    row,
                    open.TryGetValue(row.Id, out var until) ? until : null,
                    given[row.Id].Count(links.Opens),
                    given[row.Id].Max(link => link.LastUsedAt))),
        ];
    }

    public LocalDate Day(Instant moment) => moment.InZone(zone).Date;

    /// <summary>How a member stands, in words.</summary>
    public string Said(MemberShown one) => Standing(one, words, Day);

    public static string Standing(MemberShown one, Words words, Func<Instant, LocalDate> day) => one switch
    {
        { InvitedUntil: { } until } => words.PeopleInvitedUntil(day(until)),
        { Row.Active: true } => words.PeopleIsActive,
        { Row.AccountId: null, Row.Email.Length: > 0 } => words.PeopleNotAccepted,
        _ => words.PeopleIsInactive,
    };

    /// <summary>What a member is told about, in words.</summary>
    public string Sees(MemberShown one) => words.PeopleSees(
        [.. one.Row.Sites.Select(told => sites.GetValueOrDefault(told.SiteId)).OfType<string>().Order(StringComparer.Create(words.Culture, ignoreCase: true))],
        one.Row.Beds.Count);

    /// <summary>The zone in which days are told: the visitor's own, or that of the first site.</summary>
    public static async Task<DateTimeZone> ZoneOfAsync(FruitWatchStore store, Visitor visitor, CancellationToken stop) =>
        DateTimeZoneProviders.Tzdb.GetZoneOrNull(
            visitor.Person?.ZoneId ?? await store.Sites.OrderBy(site => site.Id).Select(site => site.ZoneId).FirstOrDefaultAsync(stop) ?? "") ?? DateTimeZone.Utc;
}

/// <summary>A member, as a page shows them.</summary>
internal sealed record MemberShown(Person Row, Instant? InvitedUntil, int Links, Instant? LastUsed)
{
    public string State => InvitedUntil is not null ? "pending" : Row.Active ? "done" : "withdrawn";

    public IHtmlContent Mark => InvitedUntil is not null ? Marks.Of(MailState.Pending) : Row.Active ? Marks.Of(NoticeState.Done) : Marks.Of(NoticeState.Withdrawn);
}
