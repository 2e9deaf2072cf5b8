using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class ComparingTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    // In order, with the pairs that sort wrongly as careless text: fractions, years of three digits, midnight.
    private static readonly Instant[] Moments =
    [
        Instant.FromUtc(987, 6, 5, 4, 3, 2),
        Instant.FromUtc(1969, 12, 31, 23, 59, 59).PlusNanoseconds(999_999_000),
        Instant.FromUtc(2026, 10, 5, 0, 0),
        Instant.FromUtc(2026, 10, 5, 0, 0).PlusNanoseconds(1_000),
        Instant.FromUtc(2026, 10, 5, 0, 0).PlusNanoseconds(500_000_000),
        Instant.FromUtc(2026, 10, 5, 0, 0).PlusNanoseconds(510_000_000),
        Instant.FromUtc(2026, 10, 5, 0, 0, 1),
        Instant.FromUtc(2026, 10, 15, 0, 0),
    ];

    [Fact]
    public async Task Moments_are_ordered_and_compared_as_time()
    {
        await using var store = Open();
        foreach (var moment in Moments.Reverse()) store.Add(AlderLane.Mail($"{moment:uuuu-MM-ddTHH:mm:ss.ffffff}", moment, Now));
        await store.SaveChangesAsync();

        Assert.Equal(Moments, await store.Outbox.OrderBy(mail => mail.NextTryAt).Select(mail => mail.NextTryAt).ToListAsync());
        Assert.Equal(Moments[^1], await store.Outbox.MaxAsync(mail => mail.NextTryAt));
        for (var i = 0; i < Moments.Length; i++)
        {
            var bound = Moments[i];
            Assert.Equal(i, await store.Outbox.CountAsync(mail => mail.NextTryAt < bound));
            Assert.Equal(i + 1, await store.Outbox.CountAsync(mail => mail.NextTryAt <= bound));
            Assert.Equal(1, await store.Outbox.CountAsync(mail => mail.NextTryAt == bound));
        }
    }

    [Fact]
    public async Task Days_and_times_of_day_are_ordered_and_compared_as_such()
    {
        LocalDate[] days = [new(999, 12, 31), new(2026, 9, 30), new(2026, 10, 5), new(2026, 10, 10)];
        LocalTime[] times = [LocalTime.Midnight, new(6, 0), LocalTime.FromTicksSinceMidnight(6 * NodaConstants.TicksPerHour + 10), new(23, 59, 59)];
        await using var store = Open();
        var (_, _, _, bed) = await AlderLane.FoundAsync(store);
        foreach (var day in days.Reverse())
        {
            foreach (var time in times.Reverse()) store.Add(AlderLane.Entry(bed.Id, day, time));
        }

        await store.SaveChangesAsync();

        var read = await store.LogEntries.OrderBy(entry => entry.On).ThenBy(entry => entry.At).Select(entry => new { entry.On, entry.At }).ToListAsync();
        Assert.Equal(days.SelectMany(day => times.Select(time => (day, time))), read.Select(entry => (entry.On, entry.At)));
        var (from, to, at) = (days[1], days[2], times[1]);
        Assert.Equal(2 * times.Length, await store.LogEntries.CountAsync(entry => entry.On >= from && entry.On <= to));
        Assert.Equal(2 * days.Length, await store.LogEntries.CountAsync(entry => entry.At > at));
        Assert.Equal(days[^1], await store.LogEntries.MaxAsync(entry => entry.On));
        Assert.Equal(days.Length, await store.LogEntries.GroupBy(entry => entry.On).CountAsync());
        Assert.Equal(times.Length, await store.LogEntries.CountAsync(entry => new[] { days[3] }.Contains(entry.On)));
    }

    [Fact]
    public async Task Words_are_compared_as_words()
    {
        await using var store = Open();
        var (_, _, site, bed) = await AlderLane.FoundAsync(store);
        foreach (var (state, episode) in Enum.GetValues<NoticeState>().Select((state, i) => (state, i)))
        {
            var notice = AlderLane.Notice(site.Id, bed.Id, episode);
            notice.State = state;
            store.Add(notice);
        }

        await store.SaveChangesAsync();
        Assert.Equal(1, await store.Notices.CountAsync(notice => notice.State == NoticeState.Lapsed));
        var cover = await store.Database.SqlQuery<string>($"SELECT \"Cover\" AS \"Value\" FROM \"Beds\"").SingleAsync();
        Assert.Equal("pierced-sheet", cover);
    }
}

public sealed class ComparingOnSqliteTests : ComparingTests<SqliteDatabase>;

public sealed class ComparingOnPostgresTests : ComparingTests<PostgresDatabase>;
