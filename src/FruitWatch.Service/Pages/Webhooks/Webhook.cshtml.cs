using FruitWatch.Service.Access;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Pages.Webhooks;

/// <summary>A webhook and what it was told.</summary>
[Right(Right.ManageCooperative)]
internal sealed class WebhookModel(FruitWatchStore store, WebhookShelf shelf, ServiceOptions options, Words words, IClock clock) : PageModel
{
    private const int Most = 30;

    [BindProperty(SupportsGet = true)]
    public long Id { get; set; }

    public Instant Now { get; } = clock.GetCurrentInstant();

    public string? Done { get; private set; }

    public Webhook Row { get; private set; } = null!;

    public WebhookForm Form { get; private set; } = new();

    /// <summary>A new secret, shown this once.</summary>
    public string? Secret { get; private set; }

    public IReadOnlyList<WebhookDelivery> Deliveries { get; private set; } = [];

    /// <summary>Key before which older ones are found; null where there are none.</summary>
    public long? Older { get; private set; }

    public async Task<IActionResult> OnGetAsync(string? done, long? before, CancellationToken stop)
    {
        if (!await OpenAsync(before, stop))
            return NotFound();
        Done = done;
        Form = WebhookForm.Of(Row);
        return Page();
    }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostChangeAsync(CancellationToken stop)
    {
        if (!await OpenAsync(null, stop))
            return NotFound();
        Form = WebhookForm.Of(Request.Form, options.LocalReceiverSet, words);
        if (Form.Errors.Count > 0)
        {
            Response.StatusCode = StatusCodes.Status400BadRequest;
            return Page();
        }

        await shelf.ChangeAsync(Row, Form.Name, Form.Address, Form.Events, Form.Active == true, stop);
        return Back("saved");
    }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostRotateAsync(CancellationToken stop)
    {
        if (!await OpenAsync(null, stop))
            return NotFound();
        Secret = await shelf.RotateAsync(Row, stop);
        Form = WebhookForm.Of(Row);
        return Page();
    }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostTestAsync(CancellationToken stop)
    {
        if (!await OpenAsync(null, stop))
            return NotFound();
        return Back(await shelf.TestAsync(Row, stop) is null ? "not-tested" : "tested");
    }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostResendAsync(long delivery, CancellationToken stop)
    {
        if (!await OpenAsync(null, stop))
            return NotFound();
        return Back(await shelf.ResendAsync(Row, delivery, stop) ? "resent" : "not-resent");
    }

    [Asks(Right.ManageCooperative)]
    public async Task<IActionResult> OnPostDeleteAsync(CancellationToken stop)
    {
        if (!await OpenAsync(null, stop))
            return NotFound();
        await shelf.DeleteAsync(Row, stop);
        return LocalRedirect("/cooperative/webhooks?done=deleted");
    }

    private async Task<bool> OpenAsync(long? before, CancellationToken stop)
    {
        if (await store.Webhooks.SingleOrDefaultAsync(row => row.Id == Id, stop) is not { } row)
            return false;
        Row = row;
        var limit = before ?? long.MaxValue;
        var sent = await store.WebhookDeliveries.AsNoTracking().Where(one => one.WebhookId == Id && one.Id < limit)
            .OrderByDescending(one => one.Id).Take(Most + 1).ToListAsync(stop);
        Deliveries = [.. sent.Take(Most)];
        Older = sent.Count > Most ? Deliveries[^1].Id : null;
        return true;
    }

    private LocalRedirectResult Back(string done) => LocalRedirect(FormattableString.Invariant($"/cooperative/webhooks/{Id}?done={done}"));
}
