using FruitWatch.Service.Notices;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.Extensions.Primitives;

namespace FruitWatch.Service.Pages.Wishes;

/// <summary>
/// What an unsubscribe link leads to. Looking does nothing. A POST of <c>List-Unsubscribe=One-Click</c>, from a mail reader or from the
/// page's own button, ends it at once: the link alone is the authority, without cookie, form token or redirect (RFC 8058 section 3.1).
/// What begins or changes something needs a form of this page.
/// </summary>
[AllowAnonymous]
[EnableRateLimiting(RateLimits.SignedLinks)]
[IgnoreAntiforgeryToken]
internal sealed class StopModel(StopBook book, IAntiforgery antiforgery) : PageModel
{
    public const string OneClickField = "List-Unsubscribe";
    public const string OneClickValue = "One-Click";

    /// <summary>So many beds are seen without opening their site. [d]</summary>
    public const int BedsAtOnce = 12;

    public string Secret { get; private set; } = "";

    /// <summary>Null where the link is not ours, or of nobody any more.</summary>
    public StopSight? Sight { get; private set; }

    /// <summary>What was just done.</summary>
    public string? Done { get; private set; }

    public FormFields Form { get; private set; } = null!;

    public async Task<IActionResult> OnGetAsync(CancellationToken stop) => Show(await book.LookAsync(Open(), stop));

    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        Open();
        // RFC 8058 section 3.2 lets it come in either form of a form.
        if (!Request.HasFormContentType || (await Request.ReadFormAsync(stop))[OneClickField] != OneClickValue)
            return Refuse(await book.LookAsync(Secret, stop));
        Done = "stopped";
        return Show(await book.StopAsync(Secret, stop));
    }

    public async Task<IActionResult> OnPostStartAsync(CancellationToken stop)
    {
        Open();
        if (!await antiforgery.IsRequestValidAsync(HttpContext))
            return Refuse(await book.LookAsync(Secret, stop));
        Done = "started";
        return Show(await book.StartAsync(Secret, stop));
    }

    public async Task<IActionResult> OnPostChooseAsync(CancellationToken stop)
    {
        Open();
        if (!await antiforgery.IsRequestValidAsync(HttpContext))
            return Refuse(await book.LookAsync(Secret, stop));
        var form = FormFields.Of(Request.Form, Words.For("en"));
        var (digests, urgent) = (form.Word<DigestWish>("digests"), form.Word<UrgentWish>("urgent"));
        if (digests is null || urgent is null)
            return Refuse(await book.LookAsync(Secret, stop));
        if (await book.LookAsync(Secret, stop) is { } sight && !(sight.Most.Allows(digests.Value) && sight.Most.Allows(urgent.Value)))
            return Refuse(sight);
        Done = "saved";
        return Show(await book.ChooseAsync(Secret, digests.Value, urgent.Value, PersonWishes.LeftOut(form), BedTicks.LeftOut(form), stop));
    }

    private PageResult Refuse(StopSight? sight)
    {
        var page = Show(sight);
        if (sight is not null)
            Response.StatusCode = StatusCodes.Status400BadRequest;
        return page;
    }

    private PageResult Show(StopSight? sight)
    {
        Sight = sight;
        if (sight is null)
        {
            Done = null;
            Response.StatusCode = StatusCodes.Status410Gone;
            return Page();
        }

        Languages.SpeakTo(HttpContext, sight.Person);
        Form = WishesForm.Of(sight.Person, sight.Beds, Words.For(sight.Person.Language, sight.Person.Units));
        return Page();
    }

    private string Open()
    {
        Response.Headers.CacheControl = "no-store";
        Response.Headers["Referrer-Policy"] = "no-referrer";
        Response.Headers["X-Robots-Tag"] = "noindex";
        return Secret = SecretAddresses.Of(HttpContext) ?? "";
    }
}

/// <summary>The part of the forms that is about mails.</summary>
/// <param name="Form">What is filled in.</param>
/// <param name="Most">What can be chosen at most; null for everything.</param>
internal sealed record MailsShown(FormFields Form, StopLimit? Most);

/// <summary>Beds of a site in a form.</summary>
/// <param name="Form">What is filled in.</param>
/// <param name="Beds">The beds, all of one site.</param>
/// <param name="Open">Whether they are seen at once.</param>
internal sealed record BedsShown(FormFields Form, IReadOnlyList<BedChoice> Beds, bool Open);

/// <summary>What stands in the forms of wishes.</summary>
internal static class WishesForm
{
    public static FormFields Of(Person row, IReadOnlyList<BedChoice> beds, Words words) => new(words, new Dictionary<string, StringValues>
    {
        ["version"] = row.Version.ToString(System.Globalization.CultureInfo.InvariantCulture),
        ["digests"] = ApiJson.WordOf(row.Digests),
        ["urgent"] = ApiJson.WordOf(row.Urgent),
        ["kinds"] = new([.. Enum.GetValues<Model.Notices.NoticeKind>().Except(PersonWishes.LeftOut(row)).Select(NoticeRows.WordOf)]),
        ["siteIds"] = new([.. row.Sites.Select(told => told.SiteId.ToString(System.Globalization.CultureInfo.InvariantCulture))]),
        [BedTicks.Field] = new([.. beds.Where(bed => bed.Told).Select(bed => BedTicks.KeyOf(bed.Id))]),
        ["awayFrom"] = row.AwayFrom is { } from ? NodaTime.Text.LocalDatePattern.Iso.Format(from) : "",
        ["awayUntil"] = row.AwayUntil is { } until ? NodaTime.Text.LocalDatePattern.Iso.Format(until) : "",
        ["deputyId"] = row.DeputyId?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "",
    });
}
