namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// Spreads mails evenly where a relay or a provider takes so many in a minute. One for all senders of the program; other servers have
/// their own.
/// </summary>
internal sealed class MailPace(MailOptions options, TimeProvider time)
{
    private readonly Lock door = new();
    private DateTimeOffset next = DateTimeOffset.MinValue;
    private int busy;

    /// <summary>Whether there is a pace to be kept.</summary>
    public bool Kept => options is { PerMinute: > 0, HasRelay: true };

    /// <summary>How many mails to claim at a time: none is to wait, claimed, for longer than a minute.</summary>
    public int AtOnce(int most) => Kept ? Math.Min(most, options.PerMinute) : most;

    /// <summary>
    /// Lets one sender begin. Where a pace is kept a second would only wait beside the first, and hold up whoever waits for it.
    /// </summary>
    /// <returns>What to dispose of at the end; null where another is at work.</returns>
    public IDisposable? Begin() => !Kept || Interlocked.CompareExchange(ref busy, 1, 0) == 0 ? new Turn(this) : null;

    /// <summary>Waits for the turn of the next mail.</summary>
    public async Task WaitAsync(CancellationToken stop)
    {
        if (!Kept)
            return;
        TimeSpan wait;
        lock (door)
        {
            var now = time.GetUtcNow();
            var turn = next > now ? next : now;
            next = turn + (TimeSpan.FromMinutes(1) / options.PerMinute);
            wait = turn - now;
        }

        if (wait > TimeSpan.Zero)
            await Task.Delay(wait, time, stop);
    }

    private sealed class Turn(MailPace pace) : IDisposable
    {
        public void Dispose() => Interlocked.Exchange(ref pace.busy, 0);
    }
}
