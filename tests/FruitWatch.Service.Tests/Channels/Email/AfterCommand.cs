using System.Diagnostics;
using FruitWatch.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>Does something once, when the store has carried out a command and before its rows are read.</summary>
/// <param name="database">Connection string of the store that is meant.</param>
/// <param name="part">Part of the command's text.</param>
/// <param name="act">What to do.</param>
internal sealed class AfterCommand(string database, string part, Action act) : IObserver<DiagnosticListener>, IObserver<KeyValuePair<string, object?>>, IDisposable
{
    private readonly List<IDisposable> subscriptions = [];
    private int done;

    public static AfterCommand Of(FruitWatchStore store, string part, Action act)
    {
        var made = new AfterCommand(store.Database.GetConnectionString()!, part, act);
        made.subscriptions.Add(DiagnosticListener.AllListeners.Subscribe(made));
        return made;
    }

    public bool Done => done != 0;

    public void OnNext(DiagnosticListener value)
    {
        if (value.Name == DbLoggerCategory.Name)
            subscriptions.Add(value.Subscribe(this));
    }

    public void OnNext(KeyValuePair<string, object?> value)
    {
        if (value.Value is CommandExecutedEventData executed
            && executed.Context?.Database.GetConnectionString() == database
            && executed.Command.CommandText.Contains(part, StringComparison.Ordinal)
            && Interlocked.Exchange(ref done, 1) == 0)
            act();
    }

    public void OnCompleted()
    {
    }

    public void OnError(Exception error)
    {
    }

    public void Dispose() => subscriptions.ForEach(subscription => subscription.Dispose());
}
