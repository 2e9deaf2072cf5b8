using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using NodaTime;

namespace FruitWatch.Store.Tests.Upgrade;

/// <summary>Stores from before mails kept which revision they told of, and from before calendars counted names only.</summary>
public abstract class ToldRevisionTests<TDatabase> : IAsyncLifetime
    where TDatabase : TestDatabase, new()
{
    private static readonly Instant s_told = Instant.FromUtc(2026, 10, 5, 4, 30);
    private readonly TDatabase database = new();

    public async ValueTask InitializeAsync() => await database.CreateAsync();

    public async ValueTask DisposeAsync()
    {
        await database.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    [Theory]
    [InlineData(null, 0, 0)]
    [InlineData(-5, 2, 2)] // revised, then told
    [InlineData(5, 2, 1)] // told, then revised
    public async Task What_was_told_follows_from_the_times_and_no_entry_of_a_calendar_falls(int? revisedMinutesAfter, int revisions, int told)
    {
        var factory = new StoreFactory(database.Options);
        await using (var store = factory.CreateDbContext())
        {
            await store.Database.MigrateAsync();
            var (cooperative, _, site, bed) = await AlderLane.FoundAsync(store);
            var notice = AlderLane.Notice(site.Id, bed.Id);
            (notice.Revisions, notice.RevisedAt) = (revisions, revisedMinutesAfter is { } minutes ? s_told + Duration.FromMinutes(minutes) : null);
            var mail = AlderLane.Mail("digest:17:2026-10-05", s_told, s_told);
            (mail.CooperativeId, mail.CreatedAt) = (cooperative.Id, s_told);
            (bed.Shade, site.Coastal) = (0.1, false);
            store.AddRange(notice, mail);
            await store.SaveChangesAsync();
            store.Add(new DigestNotice { MailId = mail.Id, NoticeId = notice.Id, Role = DigestRole.New });
            await store.SaveChangesAsync();
            await store.GetService<IMigrator>().MigrateAsync("OutboxSentAt", TestContext.Current.CancellationToken);
        }

        await using var after = factory.CreateDbContext();
        await after.Database.MigrateAsync();
        Assert.Equal(told, (await after.DigestNotices.SingleAsync()).Revision);
        var (kept, place) = (await after.Beds.SingleAsync(), await after.Sites.SingleAsync());
        Assert.Equal((2, 1), (kept.Version, kept.Renamings));
        Assert.Equal((2, 1), (place.Version, place.Renamings));
        Assert.Equal((null, null), (kept.RenamedAt, place.RenamedAt));
    }
}

public sealed class ToldRevisionSqliteTests : ToldRevisionTests<SqliteDatabase>;

public sealed class ToldRevisionPostgresTests : ToldRevisionTests<PostgresDatabase>;
