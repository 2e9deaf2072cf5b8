using System.Collections.Concurrent;
using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace FruitWatch.Service.Tests.Weather;

/// <summary>Weather services on loopback, each on a port of its own, that answer as a test wants.</summary>
internal sealed class FeedServer : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly ConcurrentDictionary<int, RequestDelegate> answers = new();
    private readonly ConcurrentQueue<Asked> asked = new();

    private FeedServer(WebApplication app) => this.app = app;

    /// <summary>Ports, in a fixed order.</summary>
    public IReadOnlyList<int> Ports { get; private set; } = [];

    /// <summary>All requests so far.</summary>
    public IReadOnlyList<Asked> Requests => [.. asked];

    public IEnumerable<string> Endpoints => Ports.Select(port => $"127.0.0.1:{port}");

    public static async Task<FeedServer> StartAsync(int services = 1)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            for (var i = 0; i < services; i++)
                kestrel.Listen(IPAddress.Loopback, 0);
        });
        var server = new FeedServer(builder.Build());
        server.app.Run(server.AnswerAsync);
        await server.app.StartAsync();
        server.Ports = [.. server.app.Urls.Select(url => new Uri(url).Port).Order()];
        return server;
    }

    /// <summary>How the service of a number answers from now on.</summary>
    public void Answer(int service, RequestDelegate answer) => answers[Ports[service]] = answer;

    /// <summary>The service of a number gives this text from now on.</summary>
    public void Answer(int service, Func<string> text, string mediaType = "application/json") => Answer(service, async context =>
    {
        context.Response.ContentType = mediaType;
        await context.Response.WriteAsync(text());
    });

    public int RequestsOf(int service) => asked.Count(one => one.Port == Ports[service]);

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private Task AnswerAsync(HttpContext context)
    {
        asked.Enqueue(new Asked(
            context.Connection.LocalPort,
            context.Request.Path + context.Request.QueryString,
            context.Request.Headers.IfNoneMatch.ToString(),
            context.Request.Headers.Accept.ToString()));
        if (answers.TryGetValue(context.Connection.LocalPort, out var answer))
            return answer(context);
        context.Response.StatusCode = 404;
        return Task.CompletedTask;
    }

    /// <summary>A request that came.</summary>
    internal sealed record Asked(int Port, string Address, string IfNoneMatch, string Accept);
}
