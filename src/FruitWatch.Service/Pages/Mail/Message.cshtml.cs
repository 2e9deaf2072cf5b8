using FruitWatch.Service.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Mail;

/// <summary>A mail as it went out, in both of its forms.</summary>
[Right(Right.ReadMails)]
internal sealed class MessageModel(FruitWatchStore store) : PageModel
{
    public OutgoingMail Mail { get; private set; } = null!;

    public async Task<IActionResult> OnGetAsync(long id, CancellationToken stop)
    {
        if (await store.Outbox.AsNoTracking().SingleOrDefaultAsync(mail => mail.Id == id, stop) is not { } mail)
            return NotFound();
        Mail = mail;
        return Page();
    }
}
