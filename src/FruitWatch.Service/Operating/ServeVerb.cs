using FruitWatch.Service.Jobs;
using FruitWatch.Store;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Runs the service until it is told to stop.</summary>
internal static class ServeVerb
{
    public static async Task RunAsync(string[] args)
    {
        await using var app = ServiceHost.Build(args);
        await StartAsync(app);
        await app.WaitForShutdownAsync();
    }

    /// <summary>Brings the store up to date, starts the jobs, opens the doors.</summary>
    public static async Task StartAsync(WebApplication app)
    {
        await StoreMigration.PrepareAsync(app.Services.GetRequiredService<StoreFactory>(), app.Services.GetRequiredService<IClock>(), app.Logger);
        if (app.Services.GetRequiredService<ServiceOptions>().RunJobs)
            Schedule.Start(app.Services);
        try
        {
            await app.StartAsync();
        }
        catch (IOException error)
        {
            throw new VerbException($"Cannot listen: {error.Message} Choose another address with --urls, such as --urls http://localhost:5090.");
        }
    }
}
