using FruitWatch.Service.Access;
using FruitWatch.Service.Cooperatives;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Pages.Cooperatives;

/// <summary>Everything of the cooperative, to take along. Posted, because it is noted that it was taken.</summary>
[Right(Right.ManageCooperative)]
internal sealed class ExportModel(CooperativeExport export, Visitor visitor) : PageModel
{
    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostAsync(string? form, CancellationToken stop)
    {
        if (form is not ("json" or "csv"))
            return BadRequest();
        var made = await export.MakeAsync(visitor, form, stop);
        Response.Headers[HeaderNames.CacheControl] = "no-store";
        return File(made.Content, made.MediaType, made.Name);
    }
}
