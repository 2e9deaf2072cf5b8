using System.Collections.Concurrent;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>Warnings of the service's mail, as the operator sees them.</summary>
internal sealed class LogLines : ILoggerProvider, ILogger
{
    private readonly ConcurrentQueue<string> lines = new();

    public IReadOnlyList<string> Warnings => [.. lines];

    public ILogger CreateLogger(string categoryName) =>
        categoryName.StartsWith("FruitWatch.Service.Channels.Email", StringComparison.Ordinal) ? this : NullLogger.Instance;

    public IDisposable? BeginScope<TState>(TState state)
        where TState : notnull => null;

    public bool IsEnabled(LogLevel logLevel) => logLevel == LogLevel.Warning;

    public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
    {
        if (IsEnabled(logLevel))
            lines.Enqueue(formatter(state, exception));
    }

    public void Dispose()
    {
    }
}
