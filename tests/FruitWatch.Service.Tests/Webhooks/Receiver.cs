using System.Collections.Concurrent;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace FruitWatch.Service.Tests.Webhooks;

/// <summary>A program that is told things, on Kestrel: keeps what came and answers as the test says.</summary>
internal sealed class Receiver : IAsyncDisposable
{
    private readonly WebApplication app;

    private Receiver(WebApplication app) => this.app = app;

    /// <summary>What came, in order.</summary>
    public ConcurrentQueue<Received> Came { get; } = new();

    /// <summary>How it answers; takes the number of the request, from 1.</summary>
    public Func<int, HttpContext, Task> Answer { get; set; } = (_, context) =>
    {
        context.Response.StatusCode = StatusCodes.Status204NoContent;
        return Task.CompletedTask;
    };

    public string Endpoint => new Uri(app.Urls.Single()).Authority;

    public string Address => $"http://{Endpoint}/hook";

    public static async Task<Receiver> StartAsync()
    {
        var builder = WebApplication.CreateBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        var receiver = new Receiver(app);
        app.Run(receiver.TakeAsync);
        await app.StartAsync();
        return receiver;
    }

    public void Says(int status, params (string Name, string Value)[] headers) => Answer = (_, context) =>
    {
        context.Response.StatusCode = status;
        foreach (var (name, value) in headers)
            context.Response.Headers[name] = value;
        return Task.CompletedTask;
    };

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task TakeAsync(HttpContext context)
    {
        using var reader = new StreamReader(context.Request.Body);
        var body = await reader.ReadToEndAsync();
        Came.Enqueue(new Received(context.Request.Path, new HeaderDictionary(context.Request.Headers.ToDictionary(field => field.Key, field => field.Value)), body));
        await Answer(Came.Count, context);
    }
}

/// <summary>A request as it came.</summary>
internal sealed record Received(string Path, HeaderDictionary Headers, string Body)
{
    public string Id => Headers["webhook-id"].ToString();
}
