using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using NodaTime;

namespace FruitWatch.Store.Mapping;

/// <summary>
/// How times are kept, alike in both databases: native columns in PostgreSQL, text that sorts in SQLite. Cut to microseconds, the
/// finest that PostgreSQL keeps; it would round where this cuts, and a value read back must not lie after the one written.
/// </summary>
internal static class TimeColumns
{
    private const long TicksPerMicrosecond = 10;

    public static void KeepTimes(this ModelConfigurationBuilder columns)
    {
        columns.Properties<Instant>().HaveConversion<InstantColumn>();
        columns.Properties<LocalDate>().HaveConversion<LocalDateColumn>();
        columns.Properties<LocalTime>().HaveConversion<LocalTimeColumn>();
        columns.Properties<Duration>().HaveConversion<DurationColumn>();
    }

    /// <summary>The moment in UTC, cut to microseconds.</summary>
    public static DateTime ToColumn(Instant moment)
    {
        var utc = moment.ToDateTimeUtc();
        return utc.AddTicks(-(utc.Ticks % TicksPerMicrosecond));
    }

    private static TimeOnly ToColumn(LocalTime time) =>
        new(time.TickOfDay - (time.TickOfDay % TicksPerMicrosecond));

    // SQLite gives the text back without its kind.
    private sealed class InstantColumn() : ValueConverter<Instant, DateTime>(
        moment => ToColumn(moment), kept => Instant.FromDateTimeUtc(DateTime.SpecifyKind(kept, DateTimeKind.Utc)));

    private sealed class LocalDateColumn() : ValueConverter<LocalDate, DateOnly>(
        day => day.ToDateOnly(), kept => LocalDate.FromDateOnly(kept));

    private sealed class LocalTimeColumn() : ValueConverter<LocalTime, TimeOnly>(
        time => ToColumn(time), kept => LocalTime.FromTimeOnly(kept));

    private sealed class DurationColumn() : ValueConverter<Duration, long>(
        span => (long)span.TotalMilliseconds, kept => Duration.FromMilliseconds(kept));
}
