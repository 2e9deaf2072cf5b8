using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(FruitWatch.Browser.Tests.ChromiumRun))]

namespace FruitWatch.Browser.Tests;

/// <summary>One browser and one service for all tests; every test has a window of its own.</summary>
public sealed class ChromiumRun : IAsyncLifetime
{
    private static readonly string[] s_places = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    /// <summary>Longest that a page is waited for, on a machine that is slow and busy. [ms]</summary>
    public const float Patience = 180_000;

    private IPlaywright playwright = null!;
    private IBrowser browser = null!;
    private TestService service = null!;

    internal InventedCooperative Invented => service.Invented;

    /// <summary>A site whose weather was written down for years.</summary>
    internal long Orchard { get; private set; }

    public async ValueTask InitializeAsync()
    {
        var chromium = Array.Find(s_places, File.Exists)
            ?? throw new InvalidOperationException("Chromium is missing. Install it with: apt-get install chromium (tests/run does).");
        service = await TestService.StartAsync(services => services.AddSingleton<IDemoStepper>(new StandingDemo()));
        await using (var store = service.Store())
            Orchard = await Service.Tests.Season.Orchard.AddAsync(store, service.Invented);
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = chromium,
            Timeout = Patience,
            Args = ["--no-sandbox", "--disable-dev-shm-usage", "--disable-background-networking", "--disable-component-update", "--no-first-run"],
        });
    }

    public async ValueTask DisposeAsync()
    {
        if (browser is not null)
            await browser.DisposeAsync();
        playwright?.Dispose();
        if (service is not null)
            await service.DisposeAsync();
    }

    /// <summary>A window of a browser that has never been here.</summary>
    internal async Task<Window> OpenAsync(string language = "en", bool dark = false, int width = 1280, int height = 900)
    {
        var context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = service.Address.ToString(),
            Locale = language,
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            ViewportSize = new ViewportSize { Width = width, Height = height },
            ReducedMotion = ReducedMotion.Reduce,
        });
        var session = service.Coordinator.Session.Split('=', 2);
        await context.AddCookiesAsync(
        [
            new Cookie { Name = session[0], Value = session[1], Url = service.Address.ToString(), HttpOnly = true },
            new Cookie { Name = "language", Value = language, Url = service.Address.ToString(), HttpOnly = true },
        ]);
        return new Window(context, await context.NewPageAsync(), service.Address);
    }

    /// <summary>The same at another service, of nobody yet.</summary>
    internal async Task<Window> OpenAsync(Uri address, string language = "en", bool dark = false, int width = 1280)
    {
        var context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = address.ToString(),
            Locale = language,
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            ViewportSize = new ViewportSize { Width = width, Height = 900 },
            ReducedMotion = ReducedMotion.Reduce,
        });
        return new Window(context, await context.NewPageAsync(), address);
    }

    private sealed class StandingDemo : IDemoStepper
    {
        public string Today => "2026-10-14";

        public Task StepAsync(int mornings) => Task.CompletedTask;
    }
}
