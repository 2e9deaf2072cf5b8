namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// One sender at a time in the program: so a crash catches one mail under way and no more, the relay sees one connection, and the pace is
/// kept. Other servers have their own.
/// </summary>
internal sealed class SendingTurn : IDisposable
{
    private readonly SemaphoreSlim one = new(1);
    private int waiting;

    /// <summary>
    /// Waits until the one at work has finished, because it may already have passed what is to be sent now. A third has nothing to wait for:
    /// the second has yet to look.
    /// </summary>
    /// <returns>What to dispose of at the end; null where another will do it.</returns>
    public async Task<IDisposable?> BeginAsync(CancellationToken stop)
    {
        if (one.Wait(TimeSpan.Zero, CancellationToken.None))
            return new Turn(one);
        if (Interlocked.CompareExchange(ref waiting, 1, 0) != 0)
            return null;
        try
        {
            await one.WaitAsync(stop);
        }
        finally
        {
            Interlocked.Exchange(ref waiting, 0);
        }

        return new Turn(one);
    }

    public void Dispose() => one.Dispose();

    private sealed class Turn(SemaphoreSlim one) : IDisposable
    {
        public void Dispose() => one.Release();
    }
}
