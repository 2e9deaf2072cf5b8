using FruitWatch.Service.Access;
using FruitWatch.Service.Calendars;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Primitives;
using NodaTime;

namespace FruitWatch.Service.Pages.Calendars;

/// <summary>The visitor's private calendar feeds: made, seen once, taken back. Nobody sees those of others.</summary>
[Right(Right.OwnAccount)]
internal sealed class IndexModel(CalendarShelf shelf, Visitor visitor, Words words) : PageModel
{
    public FormFields Form { get; private set; } = new(words, new Dictionary<string, StringValues>());

    public IReadOnlyList<CalendarFeed> Own { get; private set; } = [];

    /// <summary>Names of the sites that the visitor sees, by key.</summary>
    public IReadOnlyDictionary<long, string> Sites { get; private set; } = new Dictionary<long, string>();

    /// <summary>Which sites the visitor is told about, in words.</summary>
    public string Told { get; private set; } = "";

    /// <summary>What a calendar can show, as it is kept and as it is said.</summary>
    public IReadOnlyList<(string Kept, string Said)> Choices { get; private set; } = [];

    /// <summary>The one that was just made, and its address; null where none was.</summary>
    public (string Name, string Address)? Made { get; private set; }

    public bool Revoked { get; private set; }

    public LocalDate DayOf(Instant moment) =>
        moment.InZone(visitor.Person?.ZoneId is { } zone && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is { } own ? own : DateTimeZone.Utc).Date;

    public string Shows(CalendarFeed feed) =>
        feed.SiteId is not { } site ? words.CalendarsShows(null)
        : Sites.TryGetValue(site, out var name) ? words.CalendarsShows(name)
        : words.CalendarsSiteGone;

    public Task OnGetAsync(string? done, CancellationToken stop)
    {
        Revoked = done == "revoked";
        return LoadAsync(stop);
    }

    [Asks(Right.OwnAccount)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        Form = FormFields.Of(Request.Form, words);
        var asked = CalendarAsked.Of(Form);
        if (asked.SiteId is { } site && !await shelf.Sites.AnyAsync(row => row.Id == site, stop))
            Form.Refuse("siteId", words.ChooseOne);
        if (Form.Good)
        {
            if (await shelf.MakeAsync(asked.Name, asked.SiteId, stop) is var (feed, address))
                (Made, Form) = ((feed.Name, address), new FormFields(words, new Dictionary<string, StringValues>()));
            else
                Form.Refuse("", words.CalendarsTooMany(CalendarShelf.Most));
        }

        // The address is in this answer and nowhere else: it is not kept by anybody on the way.
        Response.Headers.CacheControl = "no-store";
        if (!Form.Good)
            Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        await LoadAsync(stop);
        return Page();
    }

    [Asks(Right.OwnAccount)]
    public async Task<IActionResult> OnPostRevokeAsync(long id, CancellationToken stop) =>
        await shelf.RevokeAsync(id, stop) ? LocalRedirect("/account/calendars?done=revoked") : NotFound();

    private async Task LoadAsync(CancellationToken stop)
    {
        Own = await shelf.Own.AsNoTracking().ToListAsync(stop);
        var sites = await shelf.Sites.AsNoTracking().Select(site => new { site.Id, site.Name }).ToListAsync(stop);
        Told = words.CalendarsTold(words.List(await shelf.ToldAboutAsync(stop)));
        Sites = sites.ToDictionary(site => site.Id, site => site.Name);
        Choices =
        [
            ("", words.CalendarsAll),
            .. sites.Select(site => (FormattableString.Invariant($"{site.Id}"), words.CalendarsOnly(site.Name))),
        ];
    }
}
