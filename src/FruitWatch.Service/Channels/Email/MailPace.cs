namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// Spreads mails evenly where a relay or a provider takes so many in a minute. One for all senders of the program; other servers have
/// their own.
/// </summary>
internal sealed class MailPace(MailOptions options, TimeProvider time)
{
    private readonly Lock door = new();
    private long next; // by the clock that nobody sets: one that was set back by two hours would hold mails for two hours

    /// <summary>Whether there is a pace to be kept.</summary>
    public bool Kept => options is { PerMinute: > 0, HasRelay: true };

    /// <summary>How many mails to claim at a time: none is to wait, claimed, for longer than a minute.</summary>
    public int AtOnce(int most) => Kept ? Math.Min(most, options.PerMinute) : most;

    /// <summary>Waits for the turn of the next mail.</summary>
    public async Task WaitAsync(CancellationToken stop)
    {
        if (!Kept)
            return;
        TimeSpan wait;
        lock (door)
        {
            var now = time.GetTimestamp();
            var turn = Math.Max(next, now);
            next = turn + (time.TimestampFrequency * 60 / options.PerMinute);
            wait = time.GetElapsedTime(now, turn);
        }

        if (wait > TimeSpan.Zero)
            await Task.Delay(wait, time, stop);
    }
}
