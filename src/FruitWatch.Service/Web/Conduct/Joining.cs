using FruitWatch.Store;
using Microsoft.EntityFrameworkCore.Storage;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>Transactions within that of a request that is done once, see <see cref="Idempotency"/>.</summary>
internal static class Joining
{
    /// <summary>The transaction that the store is in, or one of its own. It is committed by whoever began it.</summary>
    public static async Task<JoinedTransaction> JoinAsync(this FruitWatchStore store, CancellationToken stop) =>
        new(store.Database.CurrentTransaction is null ? await store.Database.BeginTransactionAsync(stop) : null);

    /// <summary>
    /// Leaves an operation out of the transaction of its answer: it waits for somebody else, and must not keep every other writer
    /// waiting meanwhile. What it does has to bear being done twice.
    /// </summary>
    public static RouteHandlerBuilder OutsideTransaction(this RouteHandlerBuilder operation) => operation.WithMetadata(new OutsideTransactionMetadata());
}

/// <summary>Says that an operation is not done in one transaction with its answer.</summary>
internal sealed class OutsideTransactionMetadata;

/// <summary>A transaction that may be another one's.</summary>
internal sealed class JoinedTransaction(IDbContextTransaction? own) : IAsyncDisposable
{
    public Task CommitAsync(CancellationToken stop) => own?.CommitAsync(stop) ?? Task.CompletedTask;

    public ValueTask DisposeAsync() => own?.DisposeAsync() ?? ValueTask.CompletedTask;
}
