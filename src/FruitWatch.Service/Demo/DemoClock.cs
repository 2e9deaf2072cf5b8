using FruitWatch.Service.Mornings;
using NodaTime;

namespace FruitWatch.Service.Demo;

/// <summary>The demo's time: stands still until it is set. Safe to use from any thread.</summary>
internal sealed class DemoClock(Instant start) : IClock
{
    /// <summary>When the demo's mornings begin, by the sites' clocks: a little after their round is due.</summary>
    public static readonly LocalTime Morning = new(6, 5);

    private long ticks = start.ToUnixTimeTicks();

    public Instant GetCurrentInstant() => Instant.FromUnixTimeTicks(Interlocked.Read(ref ticks));

    /// <summary>Sets it to a morning.</summary>
    public void SetMorning(LocalDate day) => Set(day, Morning);

    /// <summary>Sets it to a local time of the sites.</summary>
    public void Set(LocalDate day, LocalTime at) => Interlocked.Exchange(ref ticks, At(day, at).ToUnixTimeTicks());

    /// <summary>The moment of a local time of the sites.</summary>
    public static Instant At(LocalDate day, LocalTime at) => LocalMorning.Of(day, at, DateTimeZoneProviders.Tzdb[Cooperative.DemoSite.ZoneId]);
}
