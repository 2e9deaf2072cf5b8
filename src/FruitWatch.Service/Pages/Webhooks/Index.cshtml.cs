using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Webhooks;

/// <summary>All webhooks, and a new one.</summary>
[Right(Right.ManageCooperative)]
internal sealed class IndexModel(FruitWatchStore store, WebhookShelf shelf, ServiceOptions options, Visitor visitor, Words words) : PageModel
{
    public bool Deleted { get; private set; }

    /// <summary>The one that was just made, with its secret.</summary>
    public (Webhook Row, string Secret)? Made { get; private set; }

    public IReadOnlyList<Webhook> Rows { get; private set; } = [];

    public WebhookForm Form { get; private set; } = new();

    public async Task OnGetAsync(string? done, CancellationToken stop)
    {
        Deleted = done == "deleted";
        await LoadAsync(stop);
    }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostAsync(CancellationToken stop)
    {
        Form = WebhookForm.Of(Request.Form, options.LocalReceiverSet, words);
        if (await shelf.IsFullAsync(stop))
            Form.Refuse("name", words.WebhooksFull);
        if (Form.Errors.Count > 0)
        {
            await LoadAsync(stop);
            Response.StatusCode = StatusCodes.Status400BadRequest;
            return Page();
        }

        // The answer itself shows the secret: kept nowhere in between, it can be shown once only.
        Made = await shelf.AddAsync(visitor.Cooperative!.Id, Form.Name, Form.Address, Form.Events, stop);
        Form = new WebhookForm();
        await LoadAsync(stop);
        return Page();
    }

    private async Task LoadAsync(CancellationToken stop) => Rows = await store.Webhooks.AsNoTracking().OrderBy(row => row.Id).ToListAsync(stop);
}
