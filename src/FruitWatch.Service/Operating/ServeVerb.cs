using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Jobs;
using FruitWatch.Service.SignIn;
using FruitWatch.Store;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Runs the service until it is told to stop.</summary>
internal static class ServeVerb
{
    public static async Task RunAsync(string[] args)
    {
        await using var app = ServiceHost.Build(args);
        try
        {
            await StartAsync(app);
        }
        catch (OperationCanceledException) when (app.Lifetime.ApplicationStopping.IsCancellationRequested)
        {
            // Told to stop before its doors were open: that is no crash.
            return;
        }

        await OfferSetupAsync(app.Services, Console.Out);
        await app.WaitForShutdownAsync();
    }

    /// <summary>Where there is no account yet, tells where to make the first one.</summary>
    public static async Task OfferSetupAsync(IServiceProvider services, TextWriter output)
    {
        await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
        if (await FirstRun.OfferAsync(store, services.GetRequiredService<IClock>()) is not { } code)
            return;
        await output.WriteLineAsync($"""

            There is no account yet. Whoever opens this address within the hour makes the first one:

              {SignInAddresses.Setup(services.GetRequiredService<ServiceOptions>().BaseUrl, code)}

            """);
    }

    /// <summary>Brings the store up to date, starts the jobs, opens the doors.</summary>
    public static async Task StartAsync(WebApplication app)
    {
        var options = app.Services.GetRequiredService<ServiceOptions>();
        var stores = app.Services.GetRequiredService<StoreFactory>();
        await StoreMigration.PrepareAsync(stores, app.Services.GetRequiredService<IClock>(), app.Logger);
        await using (var store = stores.CreateDbContext())
            await KeyImport.RunAsync(store, options.KeyFolder, app.Logger);
        app.Services.GetRequiredService<MailKey>().Check();
        KeyCertificate.Warn(options, onServer: stores.File is null, app.Logger);
        if (options.RunJobs)
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
