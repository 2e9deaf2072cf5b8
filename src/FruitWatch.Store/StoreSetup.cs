using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Store;

/// <summary>Puts the store among the services of the program.</summary>
public static class StoreSetup
{
    /// <summary>
    /// Registers the <see cref="StoreFactory"/> for whatever outlives a request, and a <see cref="FruitWatchStore"/> per request, which
    /// shows nothing of any cooperative until the request's <see cref="Reach"/> is told for whom it is.
    /// </summary>
    /// <exception cref="StoreException">The options are incomplete or contradict each other.</exception>
    public static IServiceCollection AddFruitWatchStore(this IServiceCollection services, StoreOptions options)
    {
        var factory = new StoreFactory(options);
        services.AddSingleton(factory);
        services.AddSingleton<IDbContextFactory<FruitWatchStore>>(factory);
        services.AddScoped<Reach>();
        services.AddScoped(scope => factory.CreateDbContext(scope.GetRequiredService<Reach>()));
        return services;
    }
}
