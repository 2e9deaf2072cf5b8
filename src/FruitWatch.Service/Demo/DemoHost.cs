using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Demo.Weather;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using NodaTime;

namespace FruitWatch.Service.Demo;

/// <summary>
/// The service as the demo runs it: the same parts, with the demo's clock, its own folder whatever else is configured, and no mail
/// relay and no jobs.
/// </summary>
internal sealed class DemoHost : IAsyncDisposable
{
    private DemoHost(WebApplication app, DemoStepper stepper, ServiceOptions options)
    {
        App = app;
        Stepper = stepper;
        Options = options;
    }

    public WebApplication App { get; }

    public DemoStepper Stepper { get; }

    public ServiceOptions Options { get; }

    public StoreFactory Stores => App.Services.GetRequiredService<StoreFactory>();

    /// <summary>Opens the demo of a folder and does the round of the morning it stands at. Listens to nobody yet.</summary>
    /// <exception cref="VerbException">The folder holds something else than the demo that is asked for.</exception>
    public static async Task<DemoHost> OpenAsync(DemoOptions options, CancellationToken stop = default)
    {
        var folder = Path.GetFullPath(options.DataFolder);
        var (world, today) = await DemoStart.OpenAsync(options, new StoreFactory(new StoreOptions { DataFolder = folder }), stop);
        var clock = new DemoClock(DemoClock.At(today, DemoClock.Morning));
        var app = ServiceHost.Build([], builder =>
        {
            builder.Configuration.AddInMemoryCollection(Settings(options, folder));
            builder.Services.AddSingleton<IClock>(clock);
            builder.Services.AddSingleton(services => new DemoStepper(
                world,
                today,
                services.GetRequiredService<StoreFactory>(),
                new DemoFeeds(world.Weather, world.Forecasts, services.GetRequiredService<ServiceOptions>().FeedFolder(DemoSeeding.CooperativeId)),
                clock,
                services.GetRequiredService<MorningStep>().RunAsync));
            builder.Services.AddSingleton<IStandIn, DemoVisitor>();
            builder.Services.AddSingleton<DemoPeople>();
            builder.Services.AddSingleton(MailSoon.ByItself);
            builder.Services.AddSingleton<IDemoStepper>(services => services.GetRequiredService<DemoStepper>());
        });
        DemoVisitor.Map(app);
        var host = new DemoHost(app, app.Services.GetRequiredService<DemoStepper>(), app.Services.GetRequiredService<ServiceOptions>());
        await host.Stepper.BeginAsync(stop);
        return host;
    }

    public ValueTask DisposeAsync() => App.DisposeAsync();

    private static Dictionary<string, string?> Settings(DemoOptions options, string folder)
    {
        var address = FormattableString.Invariant($"http://localhost:{options.Port}");
        return new()
        {
            ["FruitWatch:DataFolder"] = folder,
            ["FruitWatch:BaseUrl"] = address,
            ["FruitWatch:RunJobs"] = "false",
            ["Store:Provider"] = "sqlite",
            ["Store:DataFolder"] = folder,
            ["Store:ConnectionString"] = "",
            ["Mail:Host"] = "",
            ["urls"] = address,
            ["Logging:LogLevel:Default"] = "Warning",
            // Why it cannot listen is said in the demo's own words.
            ["Logging:LogLevel:Microsoft.Extensions.Hosting.Internal.Host"] = "None",
        };
    }
}
