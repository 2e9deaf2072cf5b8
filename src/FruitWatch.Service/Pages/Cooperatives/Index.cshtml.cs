using FruitWatch.Service.Access;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Cooperatives;

/// <summary>The cooperative: what holds for everybody in it, and the ways to the rest.</summary>
[Right(Right.ManageCooperative)]
internal sealed class IndexModel(FruitWatchStore store, Words words) : PageModel
{
    public bool Done { get; private set; }

    public string? Error { get; private set; }

    public string Name { get; private set; } = "";

    public bool GrowersReadAll { get; private set; }

    public int Version { get; private set; }

    public async Task OnGetAsync(string? done, CancellationToken stop)
    {
        Done = done == "saved";
        Show(await store.Cooperatives.AsNoTracking().SingleAsync(stop));
    }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostAsync(string? name, bool growersReadAll, int version, CancellationToken stop)
    {
        var row = await store.Cooperatives.SingleAsync(stop);
        var wanted = (name ?? "").Trim();
        Error = wanted.Length is 0 or > CooperativeApi.LongestName || !FormText.IsLine(wanted) ? words.CoopGiveName
            : version != row.Version ? words.CoopConflict
            : null;
        if (Error is null)
        {
            (row.Name, row.GrowersReadAll) = (wanted, growersReadAll);
            try
            {
                await store.SaveChangesAsync(stop);
                return LocalRedirect("/cooperative?done=saved");
            }
            catch (DbUpdateConcurrencyException)
            {
                Error = words.CoopConflict;
                store.ChangeTracker.Clear();
            }
        }

        Show(await store.Cooperatives.AsNoTracking().SingleAsync(stop));
        (Name, GrowersReadAll) = (wanted, growersReadAll);
        Response.StatusCode = StatusCodes.Status400BadRequest;
        return Page();
    }

    private void Show(Cooperative row) => (Name, GrowersReadAll, Version) = (row.Name, row.GrowersReadAll, row.Version);
}
