using System.Net;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Pages;

/// <summary>The service as it runs, on Kestrel and a SQLite file of its own, with an invented cooperative and a clock that stands.</summary>
internal sealed class TestService : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly string folder;

    // A host's watchers of files outlive it, and a machine has few: hundreds of hosts in one process do without them.
    static TestService() => Environment.SetEnvironmentVariable("DOTNET_USE_POLLING_FILE_WATCHER", "true");

    private TestService(WebApplication app, string folder, InventedCooperative invented, Member coordinator, Faults faults)
    {
        Coordinator = coordinator;
        this.app = app;
        Faults = faults;
        this.folder = folder;
        Invented = invented;
        Address = new Uri(app.Urls.Single());
    }

    public InventedCooperative Invented { get; }

    /// <summary>Whom the clients act for that ask for nobody else.</summary>
    public Member Coordinator { get; }

    public Uri Address { get; }

    public Faults Faults { get; }

    public IServiceProvider Services => app.Services;

    /// <param name="adjust">Puts other parts in the place of usual ones.</param>
    /// <param name="map">Adds addresses.</param>
    /// <param name="settings">Settings beside the usual ones.</param>
    /// <param name="stations">Endpoints, as host and port, that feeds may be asked at without TLS.</param>
    /// <param name="apiPerMinute">Requests that a token may send in a minute; no test gets near the usual.</param>
    public static async Task<TestService> StartAsync(
        Action<IServiceCollection>? adjust = null, Action<WebApplication>? map = null, IEnumerable<string>? stations = null,
        IEnumerable<(string Key, string Value)>? settings = null, int apiPerMinute = 1_000_000)
    {
        var folder = Directory.CreateTempSubdirectory("fruitwatch-").FullName;
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ContentRootPath = AppContext.BaseDirectory,
            EnvironmentName = "Production",
            Args = ["--hostBuilder:reloadConfigOnChange=false"],
        });
        var faults = new Faults();
        builder.Logging.ClearProviders().AddProvider(faults);
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Configuration.AddInMemoryCollection(new Dictionary<string, string?>
        {
            ["FruitWatch:DataFolder"] = folder,
            ["FruitWatch:RunJobs"] = "false",
            ["FruitWatch:ApiPerMinute"] = apiPerMinute.ToString(System.Globalization.CultureInfo.InvariantCulture),
        });
        builder.Configuration.AddInMemoryCollection((stations ?? []).Select((station, i) =>
            new KeyValuePair<string, string?>(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"FruitWatch:LocalStations:{i}"), station)));
        builder.Configuration.AddInMemoryCollection((settings ?? []).Select(setting => new KeyValuePair<string, string?>(setting.Key, setting.Value)));
        ServiceHost.AddServices(builder.Services, builder.Configuration);
        builder.Services.AddSingleton<IClock>(new FakeClock(InventedCooperative.Now));
        adjust?.Invoke(builder.Services);
        var app = builder.Build();
        ServiceHost.Map(app);
        map?.Invoke(app);

        var stores = app.Services.GetRequiredService<StoreFactory>();
        await StoreMigration.PrepareAsync(stores, app.Services.GetRequiredService<IClock>(), NullLogger.Instance);
        InventedCooperative invented;
        await using (var store = stores.CreateDbContext())
            invented = await InventedCooperative.MakeAsync(store);
        var coordinator = await Member.JoinAsync(app.Services, invented.Cooperative, Role.Coordinator, "Maren Oakhurst");
        await app.StartAsync();
        return new TestService(app, folder, invented, coordinator, faults);
    }

    /// <summary>What reads along with every client, such as a check of answers against the description of the API.</summary>
    public static Func<HttpMessageHandler, HttpMessageHandler> Watched { get; set; } = handler => handler;

    /// <summary>A browser without a memory, of the coordinator: redirects are seen, cookies are not kept.</summary>
    public HttpClient Client() => Client(Coordinator);

    /// <summary>The same of another member, or of nobody.</summary>
    public HttpClient Client(Member? member)
    {
        var client = new HttpClient(Watched(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false })) { BaseAddress = Address };
        return member?.Dress(client) ?? client;
    }

    /// <summary>A browser with cookies, of the coordinator, which follows where it is sent.</summary>
    public HttpClient Browser() => Browser(Coordinator);

    /// <summary>The same of another member, or of nobody.</summary>
    public HttpClient Browser(Member? member)
    {
        var cookies = new CookieContainer();
        if (member is not null)
            cookies.SetCookies(Address, member.Session);
        var client = new HttpClient(new HttpClientHandler { CookieContainer = cookies }) { BaseAddress = Address };
        return member?.Dress(client, cookies: false) ?? client;
    }

    public FruitWatchStore Store() => app.Services.GetRequiredService<StoreFactory>().CreateDbContext();

    public async ValueTask DisposeAsync()
    {
        await app.DisposeAsync();
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }
}
