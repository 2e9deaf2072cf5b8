namespace FruitWatch.Service.Webhooks;

internal static class WebhookSetup
{
    public static void AddWebhooks(this IServiceCollection services)
    {
        services.AddSingleton<WebhookKeys>();
        services.AddSingleton(new WebhookReach());
        services.AddSingleton(new WebhookChance(Random.Shared.NextDouble));
        services.AddSingleton<WebhookCaller>();
        services.AddSingleton<WebhookStopping>();
        services.AddSingleton<WebhookSender>();
    }
}
