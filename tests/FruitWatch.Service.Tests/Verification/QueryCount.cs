using System.Diagnostics;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace FruitWatch.Service.Tests.Verification;

/// <summary>Counts the commands of one context.</summary>
internal sealed class QueryCount : IObserver<DiagnosticListener>, IObserver<KeyValuePair<string, object?>>, IDisposable
{
    private readonly FruitWatchStore store;
    private readonly List<IDisposable> subscriptions = [];

    public QueryCount(FruitWatchStore store)
    {
        this.store = store;
        subscriptions.Add(DiagnosticListener.AllListeners.Subscribe(this));
    }

    public int Count { get; private set; }

    public void OnNext(DiagnosticListener value)
    {
        if (value.Name == DbLoggerCategory.Name)
            subscriptions.Add(value.Subscribe(this));
    }

    public void OnNext(KeyValuePair<string, object?> value)
    {
        if (value.Value is CommandExecutedEventData executed && executed.Context == store)
            Count++;
    }

    public void OnCompleted()
    {
    }

    public void OnError(Exception error)
    {
    }

    public void Dispose() => subscriptions.ForEach(subscription => subscription.Dispose());
}
