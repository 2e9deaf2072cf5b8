using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Webhooks;

/// <summary>The service, a clock in hand, and receivers that the operator allows.</summary>
internal sealed class HookRun : IAsyncDisposable
{
    private readonly List<Receiver> receivers = [];

    private HookRun(TestService service, FakeClock clock) => (Service, Clock) = (service, clock);

    public TestService Service { get; }

    public FakeClock Clock { get; }

    public WebhookSender Sender => Service.Services.GetRequiredService<WebhookSender>();

    public Receiver Receiver => receivers[0];

    /// <param name="count">How many receivers.</param>
    /// <param name="reach">How names are looked up, and how long an attempt may take.</param>
    /// <param name="at">What the clock says at first.</param>
    public static async Task<HookRun> StartAsync(int count = 1, WebhookReach? reach = null, Instant? at = null)
    {
        var receivers = new List<Receiver>();
        for (var i = 0; i < count; i++)
            receivers.Add(await Receiver.StartAsync());
        var clock = new FakeClock(at ?? InventedCooperative.Now);
        var service = await TestService.StartAsync(services =>
        {
            var options = (ServiceOptions)services.Last(one => one.ServiceType == typeof(ServiceOptions)).ImplementationInstance!;
            options.LocalReceivers = [.. receivers.Select(receiver => receiver.Endpoint)];
            services.AddSingleton<IClock>(clock);
            services.AddSingleton(new WebhookChance(() => 0));
            if (reach is not null)
                services.AddSingleton(reach);
        });
        var run = new HookRun(service, clock);
        run.receivers.AddRange(receivers);
        return run;
    }

    public Receiver At(int number) => receivers[number];

    /// <summary>A webhook as the shelf makes it.</summary>
    public async Task<(Webhook Row, string Secret)> AddAsync(string? address = null, params string[] events)
    {
        await using var scope = Service.Services.CreateAsyncScope();
        scope.ServiceProvider.GetRequiredService<Reach>().Open(Service.Invented.Cooperative, "test", Clock);
        return await scope.ServiceProvider.GetRequiredService<WebhookShelf>()
            .AddAsync(Service.Invented.Cooperative, "Shed display", address ?? Receiver.Address, events.Length > 0 ? events : WebhookEvents.All, default);
    }

    /// <summary>Something to tell.</summary>
    public async Task TellAsync(Webhook webhook, int count = 1)
    {
        await using var store = Service.Store();
        for (var i = 0; i < count; i++)
            await WebhookEvents.AddToAsync(store, Clock.GetCurrentInstant(), webhook, new Happening(WebhookEvents.Test, Guid.NewGuid().ToString("N"), "webhooks/1"));
    }

    public async Task<IReadOnlyList<WebhookDelivery>> DeliveriesAsync()
    {
        await using var store = Service.Store();
        return await store.WebhookDeliveries.AsNoTracking().Where(row => row.WebhookId != Service.Invented.Webhook).OrderBy(row => row.Id).ToListAsync();
    }

    public async Task<Webhook> ReadAsync(long id)
    {
        await using var store = Service.Store();
        return await store.Webhooks.AsNoTracking().SingleAsync(row => row.Id == id);
    }

    public async ValueTask DisposeAsync()
    {
        await Service.DisposeAsync();
        foreach (var receiver in receivers)
            await receiver.DisposeAsync();
    }
}
