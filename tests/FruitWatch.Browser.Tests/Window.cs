using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

/// <summary>A browser window that remembers whatever the browser complained of.</summary>
internal sealed class Window : IAsyncDisposable
{
    private readonly IBrowserContext context;

    public Window(IBrowserContext context, IPage page, Uri address)
    {
        this.context = context;
        Page = page;
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
                Complaints.Add(message.Text);
        };
        page.PageError += (_, error) => Complaints.Add(error);
        page.RequestFailed += (_, request) => Complaints.Add($"{request.Url}: {request.Failure}");
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(address.ToString(), StringComparison.Ordinal))
                Complaints.Add($"asked elsewhere: {request.Url}");
        };
    }

    public IPage Page { get; }

    /// <summary>Errors on the console, refused by the content policy, failed or foreign requests.</summary>
    public List<string> Complaints { get; } = [];

    public ValueTask DisposeAsync() => context.DisposeAsync();
}
