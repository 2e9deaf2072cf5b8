using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>Where the service's clock comes from.</summary>
internal static class Clocks
{
    /// <summary>The machine's own clock: the one place that reads it.</summary>
    public static IClock System { get; } = new TimeProviderClock(TimeProvider.System);

    private sealed class TimeProviderClock(TimeProvider provider) : IClock
    {
        public Instant GetCurrentInstant() => Instant.FromDateTimeOffset(provider.GetUtcNow());
    }
}
