namespace FruitWatch.Service.Feeds;

/// <summary>Puts the making and trying of feeds among the service's parts.</summary>
internal static class FeedSetup
{
    public static void AddFeedTrials(this IServiceCollection services)
    {
        services.AddSingleton<TrialPace>();
        services.AddSingleton<TrialReader>();
        services.AddSingleton<FeedDrafts>();
        services.AddScoped<FeedTrials>();
        services.AddScoped<FeedShelf>();
    }
}
