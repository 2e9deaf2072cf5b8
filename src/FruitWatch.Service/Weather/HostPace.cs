using System.Collections.Concurrent;
using System.Text.Json;
using FruitWatch.Feeds;

namespace FruitWatch.Service.Weather;

/// <summary>Keeps two requests to one host apart, for those who are in no hurry.</summary>
/// <param name="apart">How far.</param>
/// <param name="time">Runs the wait.</param>
internal sealed class HostPace(TimeSpan apart, TimeProvider time)
{
    private readonly ConcurrentDictionary<string, long> next = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Whether the host may be asked now; if so, it is taken to be.</summary>
    public bool TryTake(FeedDescription description)
    {
        // Not the clock's time: a pace goes on while the clock is set.
        var now = time.GetTimestamp();
        var then = now + (long)(apart.TotalSeconds * time.TimestampFrequency);
        var taken = false;
        next.AddOrUpdate(
            HostOf(description),
            _ =>
            {
                taken = true;
                return then;
            },
            (_, free) =>
            {
                taken = free <= now;
                return taken ? then : free;
            });
        return taken;
    }

    /// <summary>Waits until the host may be asked, and takes it.</summary>
    public async Task TakeAsync(FeedDescription description, CancellationToken stop)
    {
        while (!TryTake(description))
            await Task.Delay(TimeSpan.FromMilliseconds(Math.Clamp(apart.TotalMilliseconds / 5, 1, 1000)), time, stop);
    }

    /// <summary>The host that a description asks; a name of its own for files.</summary>
    public static string HostOf(FeedDescription description)
    {
        using var json = JsonDocument.Parse(description.Json);
        var url = json.RootElement.GetProperty("request").GetProperty("url").GetString()!;
        var scheme = url.IndexOf("://", StringComparison.Ordinal);
        var end = scheme < 0 ? -1 : url.AsSpan(scheme + 3).IndexOfAny("/?#");
        return end < 0 ? url : url[..(scheme + 3 + end)];
    }
}
