using System.Collections.Concurrent;
using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

/// <summary>A browser window that remembers whatever the browser complained of.</summary>
internal sealed class Window : IAsyncDisposable
{
    private readonly IBrowserContext context;
    private ConcurrentQueue<string> complaints = new();

    public Window(IBrowserContext context, IPage page, Uri address)
    {
        this.context = context;
        context.SetDefaultTimeout(ChromiumRun.Patience);
        Page = page;
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
                complaints.Enqueue(message.Text);
        };
        page.PageError += (_, error) => complaints.Enqueue(error);
        page.RequestFailed += (_, request) =>
        {
            // A page that was left before all of it had come is no failure.
            if (request.Failure != "net::ERR_ABORTED")
                complaints.Enqueue($"{request.Url}: {request.Failure}");
        };
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(address.ToString(), StringComparison.Ordinal))
                complaints.Enqueue($"asked elsewhere: {request.Url}");
        };
    }

    public IPage Page { get; }

    /// <summary>Errors on the console, refused by the content policy, failed or foreign requests.</summary>
    public IReadOnlyCollection<string> Complaints => complaints;

    /// <summary>Waits for the browser to tell of a form's refusal on its console, which may be after the page is there, and forgets it.</summary>
    public async Task ForgiveRefusalAsync()
    {
        using var limit = new CancellationTokenSource(TimeSpan.FromMilliseconds(ChromiumRun.Patience));
        while (!complaints.Any(IsRefusal))
            await Task.Delay(20, limit.Token);
        complaints = new ConcurrentQueue<string>(complaints.Where(told => !IsRefusal(told)));

        static bool IsRefusal(string told) => told.Contains("422", StringComparison.Ordinal);
    }

    public ValueTask DisposeAsync() => context.DisposeAsync();
}
