using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Tests;

public abstract class RoundTripTests<TDatabase> : StoreTests<TDatabase>
    where TDatabase : TestDatabase, new()
{
    [Fact]
    public async Task Every_field_of_every_table_comes_back_as_it_was_written()
    {
        await using var writing = Open();
        await WriteOneOfEachAsync(writing);
        // What is kept as JSON within a row comes and goes with it.
        var tables = writing.ChangeTracker.Entries().Where(entry => !entry.Metadata.IsOwned()).Select(entry => entry.Metadata.ClrType).ToHashSet();
        Assert.Equal(writing.Model.GetEntityTypes().Where(table => !table.IsOwned()).Select(table => table.ClrType.Name).Order(), tables.Select(table => table.Name).Order());

        await using var reading = Open();
        foreach (var written in writing.ChangeTracker.Entries().Where(entry => !entry.Metadata.IsOwned()))
        {
            var key = written.Metadata.FindPrimaryKey()!.Properties.Select(part => written.CurrentValues[part]).ToArray();
            var read = await reading.FindAsync(written.Metadata.ClrType, key);
            Assert.NotNull(read);
            foreach (var column in written.Metadata.GetProperties())
                Assert.Equal(written.CurrentValues[column], reading.Entry(read).CurrentValues[column.Name]);
        }
    }

    [Fact]
    public async Task What_is_not_known_comes_back_as_null()
    {
        await using var writing = Open();
        var (_, feed, site, bed) = await AlderLane.FoundAsync(writing);
        writing.Add(new WeatherRecord { SiteId = site.Id, FeedId = feed.Id, Date = AlderLane.LeapDay, IssuedAt = Now, FetchedAt = Now });
        bed.RetiredOn = null;
        bed.SpawnRate = null;
        await writing.SaveChangesAsync();

        await using var reading = Open();
        var day = await reading.Weather.SingleAsync();
        Assert.Null(day.Tmax);
        Assert.Null(day.Rain);
        var same = await reading.Beds.SingleAsync();
        Assert.Null(same.RetiredOn);
        Assert.Null(same.SpawnRate);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(999)]
    [InlineData(123_456_789)]
    public async Task A_moment_is_cut_to_microseconds_and_never_comes_back_later(long nanoseconds)
    {
        // Before 1970 too, where cutting and rounding towards zero part ways.
        foreach (var second in new[] { Instant.FromUtc(1883, 11, 18, 17, 0), Now, Instant.FromUtc(9999, 12, 31, 23, 59, 59) })
        {
            var moment = second.PlusNanoseconds(nanoseconds);
            await using var store = Open();
            var mail = AlderLane.Mail($"odd:{moment}:{nanoseconds}", moment, moment);
            store.Add(mail);
            await store.SaveChangesAsync();
            var kept = await store.Outbox.AsNoTracking().SingleAsync(row => row.Id == mail.Id);
            Assert.Equal(second.PlusNanoseconds(nanoseconds / 1000 * 1000), kept.NextTryAt);
        }
    }

    [Theory]
    [InlineData(1, 1, 1)]
    [InlineData(1582, 10, 10)]
    [InlineData(2024, 2, 29)]
    [InlineData(9999, 12, 31)]
    public async Task A_day_stays_that_day(int year, int month, int day)
    {
        var date = new LocalDate(year, month, day);
        await using var store = Open();
        var (_, _, _, bed) = await AlderLane.FoundAsync(store);
        store.Add(AlderLane.Entry(bed.Id, date, LocalTime.Midnight));
        await store.SaveChangesAsync();
        var kept = await store.LogEntries.AsNoTracking().SingleAsync();
        Assert.Equal(date, kept.On);
        Assert.Equal(LocalTime.Midnight, kept.At);
    }

    internal static async Task WriteOneOfEachAsync(FruitWatchStore store)
    {
        var (cooperative, feed, site, bed) = await AlderLane.FoundAsync(store);
        bed.RetiredOn = AlderLane.LeapDay.PlusDays(400);
        var old = AlderLane.Entry(bed.Id, AlderLane.LeapDay, LocalTime.Noon);
        var person = AlderLane.Person(cooperative.Id);
        var notice = AlderLane.Notice(site.Id, bed.Id);
        var forecast = AlderLane.Forecast(site.Id, feed.Id);
        store.AddRange(old, person, notice, forecast);
        await store.SaveChangesAsync();
        await Members.AddOneOfEachAsync(store, cooperative.Id, person, bed.Id);

        var entry = AlderLane.Entry(bed.Id, AlderLane.LeapDay, new LocalTime(7, 8, 9), "topped-up");
        (entry.Text, entry.Depth, entry.Note, entry.ReplacesId, entry.UndoneAt) = ("straw", 0.05, "“wet”, 50 % ok\r\n", old.Id, AlderLane.Odd);
        var mail = AlderLane.Mail("digest:17:2026-10-05", AlderLane.Odd, Now);
        (mail.CooperativeId, mail.PersonId, mail.Headers, mail.State, mail.Attempts) = (cooperative.Id, person.Id, """{"Auto-Submitted":"auto-generated"}""", MailState.Unconfirmed, 3);
        (mail.Owner, mail.LeaseUntil, mail.SentAt, mail.LastError) = ("server-1", AlderLane.Odd, AlderLane.Odd, "421 later");
        store.AddRange(
            entry,
            mail,
            new PersonSite { PersonId = person.Id, SiteId = site.Id },
            new PersonBedLeftOut { PersonId = person.Id, BedId = bed.Id },
            WeatherRecord.Of(site.Id, feed.Id, AlderLane.Day(AlderLane.LeapDay), AlderLane.Odd, Now),
            new SiteMorning
            {
                SiteId = site.Id,
                On = AlderLane.LeapDay,
                DoneAt = AlderLane.Odd,
                Late = true,
                ForecastIssueId = forecast.Id,
                ForecastIssuedAt = forecast.IssuedAt,
                LookedAtForecastId = forecast.Id,
                FeedState = "stale",
                Note = "The feed gave 15 of 16 days.",
            },
            new OutlookIssued
            {
                BedId = bed.Id,
                On = AlderLane.LeapDay,
                IssuedAt = AlderLane.Odd,
                ModelVersion = "1.0.0",
                Score = 66.6,
                Phase = "Pinning",
                Payload = """{"pins":[0.1,0.3]}""",
            },
            new Setting { Key = "feeds.cursor", Value = "17" });
        store.AddRange(AskedFeeds.OneOfEach(cooperative.Id, site.Id, feed.Id));
        await store.SaveChangesAsync();
        var deputy = AlderLane.Person(cooperative.Id, "deputy@example.org");
        store.AddRange(
            deputy,
            new DigestNotice { MailId = mail.Id, NoticeId = notice.Id, Role = DigestRole.Changed, Revision = 3 },
            new MailDeed
            {
                CooperativeId = cooperative.Id,
                PersonId = person.Id,
                NoticeId = notice.Id,
                Nonce = $"n{cooperative.Id}",
                Deed = "watered",
                At = AlderLane.Odd,
                LogEntryId = entry.Id,
                Until = AlderLane.LeapDay,
                UndoneAt = Now,
            },
            new CalendarFeed
            {
                CooperativeId = cooperative.Id,
                PersonId = person.Id,
                SiteId = site.Id,
                Name = "Phone",
                Hash = $"d{cooperative.Id}",
                MadeAt = AlderLane.Odd,
                RevokedAt = Now,
                LastUsedAt = Now,
            },
            new Bounce { CooperativeId = cooperative.Id, PersonId = person.Id, MailId = mail.Id, At = AlderLane.Odd, Permanent = true, Status = "5.1.1", Detail = "no such mailbox" });
        await store.SaveChangesAsync();
        person.DeputyId = deputy.Id;
        await store.SaveChangesAsync();
    }
}

public sealed class RoundTripOnSqliteTests : RoundTripTests<SqliteDatabase>;

public sealed class RoundTripOnPostgresTests : RoundTripTests<PostgresDatabase>;
