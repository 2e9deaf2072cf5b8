using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Queries;
using Hangfire;
using NodaTime;

namespace FruitWatch.Service.Jobs;

/// <summary>Sends what programs are to be told. May run twice or beside itself: each delivery is given to one sender.</summary>
/// <remarks>A job that fails is not tried again by the engine: what it left undone is still due at the next tick.</remarks>
[AutomaticRetry(Attempts = 0)]
internal sealed class WebhookJobs(StoreFactory stores, WebhookSender sender, IClock clock, TimeProvider time)
{
    /// <summary>The next tick comes within a minute; the first retry, and what happens meanwhile, need not wait for it.</summary>
    private static readonly TimeSpan s_watch = TimeSpan.FromSeconds(50);

    private static readonly TimeSpan s_pause = TimeSpan.FromSeconds(5);

    public async Task TickAsync(CancellationToken stop)
    {
        var begun = time.GetTimestamp();
        do
        {
            await sender.SendDueAsync(stop);
            await using var store = stores.CreateDbContext();
            // Nothing waits: most minutes end here.
            if (await Deliveries.NextDueAsync(store, stop) is not { } next || next - clock.GetCurrentInstant() > Duration.FromTimeSpan(s_watch))
                return;
            await Task.Delay(s_pause, time, stop);
        }
        while (time.GetElapsedTime(begun) < s_watch);
    }
}
