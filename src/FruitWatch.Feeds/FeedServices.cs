using FruitWatch.Feeds.Fetching;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FruitWatch.Feeds;

/// <summary>Puts the fetching of feeds among the service's parts.</summary>
public static class FeedServices
{
    /// <summary>Adds <see cref="FeedClient"/> and its HTTP client. A clock that is there already is kept.</summary>
    public static IServiceCollection AddFruitWatchFeeds(this IServiceCollection services, FeedClientOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentException.ThrowIfNullOrWhiteSpace(options.UserAgent);
        if (options.LocalStations.FirstOrDefault(station => !GuardedConnector.IsEndpoint(station)) is { } wrong)
            throw new ArgumentException($"A local station is named by its exact host:port, not \"{wrong}\".", nameof(options));
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton(options);
        services.AddSingleton<FeedClient>();
        // No timeout of the client's own: it would end at the headers, and the pipeline's deadline covers the body as well.
        // No loggers: they write addresses, and an address may hold a key.
        services.AddHttpClient(FeedClient.HttpClientName, client => client.Timeout = Timeout.InfiniteTimeSpan)
            .ConfigurePrimaryHttpMessageHandler(() => FeedHandler.Create(options))
            .SetHandlerLifetime(Timeout.InfiniteTimeSpan)
            .RemoveAllLoggers();
        return services;
    }
}
