using System.Collections.Concurrent;
using Microsoft.Extensions.Logging;

namespace FruitWatch.Service.Tests.Pages;

/// <summary>What the service logged as a fault, for the test to fail with.</summary>
internal sealed class Faults : ILoggerProvider, ILogger
{
    private readonly ConcurrentQueue<string> told = new();

    public IReadOnlyCollection<string> Told => told;

    public ILogger CreateLogger(string categoryName) => this;

    public IDisposable? BeginScope<TState>(TState state)
        where TState : notnull => null;

    public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Error;

    public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter)
    {
        if (IsEnabled(logLevel))
            told.Enqueue($"{formatter(state, exception)} {exception}");
    }

    public void Dispose()
    {
    }
}
