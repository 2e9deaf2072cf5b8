using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Hangfire;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Jobs;

/// <summary>Throws away, night by night, what has been kept long enough. Run twice, the second run finds nothing.</summary>
/// <remarks>A job that fails is not tried again by the engine: what it left undone is still due the next night.</remarks>
[AutomaticRetry(Attempts = 0)]
internal sealed class HousekeepingJobs(StoreFactory stores, ServiceOptions options, Traces traces, IClock clock)
{
    /// <summary>For as long as who did what can be asked.</summary>
    public static readonly Period AuditFor = Period.FromYears(2);

    /// <summary>For as long as a delivery can be sent again.</summary>
    public static readonly Duration BodiesFor = Duration.FromDays(30);

    /// <summary>For as long as deliveries are listed.</summary>
    public static readonly Duration DeliveriesFor = Duration.FromDays(180);

    /// <summary>For as long as what a mail said is kept; that it was sent, to whom and when is kept longer.</summary>
    public static readonly Duration MailBodiesFor = Duration.FromDays(90);

    public async Task NightAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var now = clock.GetCurrentInstant();
        var oldest = (now.InUtc().LocalDateTime - AuditFor).InUtc().ToInstant();
        await store.Audit.Where(entry => entry.At < oldest).ExecuteDeleteAsync(stop);
        var (bodies, listed) = (now - BodiesFor, now - DeliveriesFor);
        await store.WebhookDeliveries.Where(sent => sent.MadeAt < listed).ExecuteDeleteAsync(stop);
        // One that still waits keeps its body; after a day or two of retries none does.
        await store.WebhookDeliveries
            .Where(sent => sent.MadeAt < bodies && sent.Body != ""
                && (sent.State == DeliveryState.Delivered || sent.State == DeliveryState.Failed))
            .ExecuteUpdateAsync(set => set.SetProperty(sent => sent.Body, ""), stop);
        var said = now - MailBodiesFor;
        await store.Outbox.Where(mail => mail.CreatedAt < said && mail.TextBody != "" && mail.State != MailState.Pending && mail.State != MailState.Sending)
            .ExecuteUpdateAsync(
                set => set.SetProperty(mail => mail.TextBody, "").SetProperty(mail => mail.HtmlBody, "").SetProperty(mail => mail.Headers, (string?)null), stop);
        // The same where mails are written as files.
        FolderRoute.DeleteBefore(options.MailFolder, said.InUtc().Date);
        await FinishedMails.ForgetAllAsync(store, stop);
        await Deliveries.GiveUpAsync(store, now, DeliveryErrors.Stopped, stop);
        await traces.WipeDueAsync(stop);
    }
}
