using FruitWatch.Service.Weather;
using FruitWatch.Service.Weather.Past;
using Hangfire;

namespace FruitWatch.Service.Jobs;

/// <summary>
/// Asks feeds by the day and fetches past years. Each part may run twice or beside itself: what was done is due no longer.
/// </summary>
/// <remarks>A job that fails is not tried again by the engine: what it left undone is still due at the next tick.</remarks>
[AutomaticRetry(Attempts = 0)]
internal sealed class WeatherJobs(DayRound day, BackfillRound past, TimeProvider time)
{
    /// <summary>A host is asked for one stretch of the past in a minute; the next tick comes after five.</summary>
    private const int StretchesInATick = 4;

    /// <summary>Asks the feeds that are due, then goes on with past years.</summary>
    public async Task TickAsync(CancellationToken stop)
    {
        await day.RunAsync(stop);
        for (var i = 0; i < StretchesInATick && await past.RunAsync(stop) > 0; i++)
            await Task.Delay(TimeSpan.FromSeconds(61), time, stop);
    }
}
