using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Web;
using FruitWatch.Service.Web.Conduct;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.RateLimiting;

namespace FruitWatch.Service.Pages.Deeds;

/// <summary>
/// What a button of a mail leads to. Looking shows what would be written down, and does nothing, because programs look at links before
/// people do (ASVS 5.0, 3.5.3); its one button does it. Whoever holds the link is signed in nowhere by it.
/// </summary>
[AllowAnonymous]
[EnableRateLimiting(RateLimits.SignedLinks)]
internal sealed class IndexModel(DeedBook deeds, BedCatalogue catalogue) : PageModel
{
    public string Secret { get; private set; } = "";

    public DeedSight Sight { get; private set; } = null!;

    public BedCatalogue Catalogue => catalogue;

    public async Task<IActionResult> OnGetAsync(CancellationToken stop) => Show(await deeds.LookAsync(Open(), stop));

    public async Task<IActionResult> OnPostAsync(int? seen, int? days, CancellationToken stop) => Show(await deeds.DoAsync(Open(), seen, days, stop));

    public async Task<IActionResult> OnPostUndoAsync(CancellationToken stop) => Show(await deeds.UndoAsync(Open(), stop));

    /// <summary>Shown in the answer itself: an address that a redirect led to would hold the secret.</summary>
    private PageResult Show(DeedSight sight)
    {
        Sight = sight;
        if (sight.Person is { } person)
            Languages.SpeakTo(HttpContext, person);
        Response.StatusCode = sight switch
        {
            { State: DeedState.Unknown or DeedState.Expired or DeedState.NotMember or DeedState.BedRetired } => StatusCodes.Status410Gone,
            { State: DeedState.NotTheirs } => StatusCodes.Status403Forbidden,
            { LookAgain: true } or { State: DeedState.Ended } => StatusCodes.Status409Conflict,
            { NoDay: true } => StatusCodes.Status422UnprocessableEntity,
            _ => StatusCodes.Status200OK,
        };
        return Page();
    }

    private string? Open()
    {
        Response.Headers.CacheControl = "no-store";
        Response.Headers["Referrer-Policy"] = "no-referrer";
        Response.Headers["X-Robots-Tag"] = "noindex";
        return Secret = SecretAddresses.Of(HttpContext) ?? "";
    }
}
