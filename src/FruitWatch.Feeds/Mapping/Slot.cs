using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Mapping;

/// <summary>One value on the UTC time line.</summary>
/// <param name="Start">From when the value holds; for a reading of a moment, that moment.</param>
/// <param name="End">Until when; later than <paramref name="Start"/> except for a lone reading.</param>
/// <param name="Value">In °C, mm or %.</param>
/// <param name="Series">What the value is of.</param>
/// <param name="Place">The place it was read from, for messages.</param>
internal sealed record Slot(Instant Start, Instant End, double Value, SeriesDescription Series, Func<string> Place)
{
    public Duration Length => End - Start;
}
