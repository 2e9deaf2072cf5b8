using FruitWatch.Feeds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Jobs;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Silences;
using FruitWatch.Service.Urgent;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Weather.Past;
using FruitWatch.Service.Web;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using Microsoft.Extensions.DependencyInjection.Extensions;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Puts the service together.</summary>
internal static class ServiceHost
{
    public static WebApplication Build(string[] args, Action<WebApplicationBuilder>? adjust = null)
    {
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            Args = args,
            // The program's own folder, so that pages and styles are found from wherever it is started.
            ContentRootPath = AppContext.BaseDirectory,
        });
        // Said once when the keys of the forms are made; docs/operating.md tells what protects them.
        builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection.KeyManagement.XmlKeyManager", LogLevel.Error);
        adjust?.Invoke(builder);
        AddServices(builder.Services, builder.Configuration);
        var app = builder.Build();
        Map(app);
        return app;
    }

    public static void AddServices(IServiceCollection services, IConfiguration configuration)
    {
        var options = configuration.GetSection(ServiceOptions.Section).Get<ServiceOptions>() ?? new ServiceOptions();
        if (options.LocalStations.FirstOrDefault(station => !GuardedConnector.IsEndpoint(station)) is { } wrong)
            throw new VerbException($"{ServiceOptions.Section}:LocalStations holds \"{wrong}\". Write host and port, such as 192.168.1.20:8080.");
        if (options.LocalReceivers.FirstOrDefault(receiver => !GuardedConnector.IsEndpoint(receiver)) is { } notOne)
            throw new VerbException($"{ServiceOptions.Section}:LocalReceivers holds \"{notOne}\". Write host and port, such as 192.168.1.30:8080.");
        services.AddSingleton(options);
        // A line for each request would put secrets of links into the log, and line breaks that somebody sent (ASVS 5.0 16.2.5, 16.4.1).
        services.AddLogging(logging => logging.AddFilter("Microsoft.AspNetCore", LogLevel.Warning));
        services.TryAddSingleton<IClock>(Clocks.System);
        services.AddSingleton(BedCatalogue.BuiltIn);
        services.AddSingleton<SiteBooks>();
        services.AddSingleton<FeedKeys>();
        services.AddSingleton<HostMemory>();
        services.AddSingleton<FeedAsking>();
        services.AddSingleton<WeatherPull>();
        services.AddSingleton<DayRound>();
        services.AddSingleton<Backfills>();
        services.AddSingleton<BackfillRound>();
        services.AddSingleton<MorningRound>();
        services.AddSingleton<LetterLinks>();
        services.AddSingleton<DigestRound>();
        services.AddSingleton<UrgentLook>();
        services.AddSingleton<UrgentRound>();
        services.AddSingleton<SilenceRound>();
        services.AddSingleton<MorningStep>();
        services.AddFruitWatchFeeds(new FeedClientOptions
        {
            UserAgent = $"FruitWatch/{typeof(ServiceHost).Assembly.GetName().Version?.ToString(3)} ({options.Contact})",
            LocalStations = options.LocalStationSet,
        });
        services.AddWebhooks();
        services.AddEmail(configuration);
        services.AddJobs(options);

        var store = configuration.GetSection("Store").Get<StoreOptions>() ?? new StoreOptions();
        store.DataFolder ??= options.DataFolder;
        services.AddFruitWatchStore(store);
        services.AddFruitWatchWeb();
        services.AddSecretAddresses();
        services.AddKeyCertificate(options);
    }

    public static void Map(WebApplication app)
    {
        app.MapFruitWatchWeb();
        app.MapGet("/health/live", () => Results.Text("alive")).WithName("Alive").ForEverybody();
    }
}
