using System.Globalization;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace FruitWatch.Service.Pages;

/// <summary>What is shown where an address or a form leads nowhere.</summary>
[IgnoreAntiforgeryToken] // It is also the answer to a form whose token was refused.
[AllowAnonymous]
internal sealed class ProblemModel : PageModel
{
    public int Status { get; private set; }

    /// <summary>How long to wait, where it was too often. [s]</summary>
    public int RetryAfter => int.TryParse(Response.Headers.RetryAfter, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds) ? seconds : 60;

    public void OnGet(int status) => Status = status;

    public void OnPost(int status) => Status = status;
}
