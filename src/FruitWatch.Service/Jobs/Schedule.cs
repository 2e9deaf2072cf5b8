using FruitWatch.Service.Access;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Web.Conduct;
using Hangfire;
using Hangfire.InMemory;

namespace FruitWatch.Service.Jobs;

/// <summary>
/// Every recurring job, in one place. Hangfire keeps them in memory and counts in UTC; which site is due is asked of the store
/// and worked out with NodaTime, so that neither a restart nor a clock change loses or doubles a morning.
/// </summary>
internal static class Schedule
{
    /// <summary>Where Hangfire's own view of its jobs is.</summary>
    public const string Dashboard = "/operating/jobs";

    private const string Tick = "morning-tick";
    private const string Drafts = "feed-drafts";
    private const string Requests = "requests-kept";
    private const string EveryFiveMinutes = "*/5 * * * *";
    private const string WeatherTick = "weather-tick";
    private const string WebhookTick = "webhook-tick";
    private const string BounceTick = "bounce-tick";
    private const string EveryTenMinutesOffTheHour = "6-56/10 * * * *";
    private const string Night = "housekeeping";

    // Never on the hour, when everybody asks.
    private const string EveryFiveMinutesOffTheHour = "3-58/5 * * * *";

    public static void AddJobs(this IServiceCollection services, ServiceOptions options)
    {
        services.AddScoped<MorningJobs>();
        services.AddScoped<WeatherJobs>();
        services.AddScoped<WebhookJobs>();
        services.AddScoped<HousekeepingJobs>();
        services.AddScoped<BounceJobs>();
        // Each host its own: by itself the engine takes the storage that was last set in the program.
        services.AddSingleton<JobStorage>(_ => new InMemoryStorage(new InMemoryStorageOptions()));
        services.AddHangfire((provider, configuration) => configuration
            .SetDataCompatibilityLevel(CompatibilityLevel.Version_180)
            .UseSimpleAssemblyNameTypeSerializer()
            .UseRecommendedSerializerSettings()
            .UseStorage(provider.GetRequiredService<JobStorage>()));
        if (options.RunJobs)
            services.AddHangfireServer(server => server.WorkerCount = 4);
    }

    /// <summary>Hangfire's own view of its jobs, to look at: for those who run the service, and nobody else, from wherever they come.</summary>
    public static void MapJobs(this IEndpointRouteBuilder app) =>
        app.MapHangfireDashboard(Dashboard, new DashboardOptions
        {
            // Its own rule lets in whoever comes from this machine, which behind a proxy is everybody. Ours stands on the address.
            Authorization = [],
            IsReadOnlyFunc = _ => true,
            AppPath = "/",
            DashboardTitle = "FruitWatch",
            DisplayStorageConnectionString = false,
        }).Needs(Right.Operate);

    public static void Start(IServiceProvider services)
    {
        services.GetRequiredService<IRecurringJobManager>().AddOrUpdate<MorningJobs>(
            Tick, job => job.TickAsync(CancellationToken.None), EveryFiveMinutes, new RecurringJobOptions { TimeZone = TimeZoneInfo.Utc });
        services.GetRequiredService<IRecurringJobManager>().AddOrUpdate<FeedDrafts>(
            Drafts, drafts => drafts.ClearAsync(CancellationToken.None), Cron.Hourly(17), new RecurringJobOptions { TimeZone = TimeZoneInfo.Utc });
        services.GetRequiredService<IRecurringJobManager>().AddOrUpdate<WeatherJobs>(
            WeatherTick, job => job.TickAsync(CancellationToken.None), EveryFiveMinutesOffTheHour, new RecurringJobOptions { TimeZone = TimeZoneInfo.Utc });
        services.GetRequiredService<IRecurringJobManager>().AddOrUpdate<WebhookJobs>(
            WebhookTick, job => job.TickAsync(CancellationToken.None), Cron.Minutely(), new RecurringJobOptions { TimeZone = TimeZoneInfo.Utc });
        services.GetRequiredService<IRecurringJobManager>().AddOrUpdate<BounceJobs>(
            BounceTick, job => job.TickAsync(CancellationToken.None), EveryTenMinutesOffTheHour, new RecurringJobOptions { TimeZone = TimeZoneInfo.Utc });
        services.GetRequiredService<IRecurringJobManager>().AddOrUpdate<HousekeepingJobs>(
            Night, job => job.NightAsync(CancellationToken.None), Cron.Daily(1, 23), new RecurringJobOptions { TimeZone = TimeZoneInfo.Utc });
        services.GetRequiredService<IRecurringJobManager>().AddOrUpdate<RequestsKept>(
            Requests, kept => kept.ClearAsync(CancellationToken.None), Cron.Hourly(41), new RecurringJobOptions { TimeZone = TimeZoneInfo.Utc });
        // At once, too: a start after the morning does not wait for the next five minutes.
        services.GetRequiredService<IRecurringJobManager>().Trigger(Tick);
    }
}
