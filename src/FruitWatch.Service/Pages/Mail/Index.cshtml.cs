using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Mail;

/// <summary>The mails that went out or wait to, the last first.</summary>
[Right(Right.ReadMails)]
internal sealed class IndexModel(FruitWatchStore store, Visitor visitor) : PageModel
{
    private const int Most = 50;

    public IReadOnlyList<OutgoingMail> Mails { get; private set; } = [];

    /// <summary>Key before which older ones are found; null where there are none.</summary>
    public long? Older { get; private set; }

    /// <summary>What keeps mails from leaving or reports from being read; for coordinators, and those who run the service.</summary>
    public IReadOnlyDictionary<string, MailTrouble> Troubles { get; private set; } = new Dictionary<string, MailTrouble>();

    /// <summary>Whether the visitor may read what went wrong in the words of hosts.</summary>
    public bool Operates => visitor.May(Right.Operate);

    public async Task OnGetAsync(long? before, CancellationToken stop)
    {
        if (Operates || visitor.May(Right.ManageCooperative))
            Troubles = await MailTroubles.OfAsync(store, stop);
        var limit = before ?? long.MaxValue;
        // Without the bodies: a list needs no more than their heads.
        var heads = await store.Outbox.AsNoTracking().Where(mail => mail.Id < limit).OrderByDescending(mail => mail.Id).Take(Most + 1)
            .Select(mail => new OutgoingMail
            {
                Id = mail.Id,
                Key = mail.Key,
                ToName = mail.ToName,
                ToAddress = mail.ToAddress,
                Subject = mail.Subject,
                TextBody = "",
                HtmlBody = "",
                MessageId = mail.MessageId,
                State = mail.State,
                CreatedAt = mail.CreatedAt,
                SentAt = mail.SentAt,
            }).ToListAsync(stop);
        Mails = [.. heads.Take(Most)];
        Older = heads.Count > Most ? Mails[^1].Id : null;
    }
}
