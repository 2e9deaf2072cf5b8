using FruitWatch.Service.Access;
using FruitWatch.Service.Cooperatives;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace FruitWatch.Service.Pages.Cooperatives;

/// <summary>The end of a cooperative, for whoever types its name.</summary>
[Right(Right.ManageCooperative)]
internal sealed class DeleteModel(CooperativeRemoval removal, Visitor visitor) : PageModel
{
    public string Name => visitor.Cooperative!.Name;

    /// <summary>Another name was typed.</summary>
    public bool Wrong { get; private set; }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostAsync(string? name)
    {
        if ((name ?? "").Trim() != Name.Trim())
        {
            Wrong = true;
            Response.StatusCode = StatusCodes.Status400BadRequest;
            return Page();
        }

        // Begun is done: a browser that is closed does not leave half of it.
        await removal.RemoveAsync(visitor.Cooperative!.Id, visitor.Via!, CancellationToken.None);
        return LocalRedirect("/cooperative/deleted");
    }
}
