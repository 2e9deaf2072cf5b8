using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Channels.Email;
using FruitWatch.Service.Tests.Cooperatives;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Killed;

/// <summary>
/// A store on which lives of the program work one after the other: a cooperative whose mornings are due, mails that wait, and mails whose
/// time comes one by one. By the real clock, because the program has no other.
/// </summary>
internal sealed class KilledStore : IAsyncDisposable
{
    public const int Sites = 6;
    public const int PeopleAtSite = 5;

    private readonly TestStores kept;

    private KilledStore(TestStores kept) => this.kept = kept;

    /// <summary>Settings with which the program works on this store.</summary>
    public IEnumerable<(string Name, string Value)> Settings =>
    [
        ("FruitWatch__DataFolder", kept.Folder), ("Store__Provider", kept.Options.Provider),
        .. kept.Options.ConnectionString is { } server ? [("Store__ConnectionString", server)] : Array.Empty<(string, string)>(),
    ];

    /// <summary>What has to arrive, by Message-ID, and what the store says of it.</summary>
    public async Task<IReadOnlyDictionary<string, string>> DueAsync()
    {
        await using var store = kept.Factory.CreateDbContext();
        var mails = await store.Outbox.AsNoTracking().ToListAsync();
        return mails.ToDictionary(mail => $"<{mail.MessageId}>", mail => $"{mail.Key}: {mail.State}, {mail.Attempts} attempts, {mail.LastError}");
    }

    /// <param name="waiting">Mails that wait from the start.</param>
    /// <param name="coming">Mails whose time comes after the start, five in a second.</param>
    /// <param name="provider"><c>sqlite</c> or <c>postgres</c>.</param>
    public static async Task<KilledStore> MakeAsync(int waiting, int coming, string provider = "sqlite")
    {
        var made = new KilledStore(await TestStores.OpenAsync(provider));
        await made.FillAsync(waiting, coming);
        return made;
    }

    /// <summary>Mails and rounds that are not done, of those that are due by now.</summary>
    public async Task<int> LeftAsync()
    {
        await using var store = kept.Factory.CreateDbContext();
        var open = await store.Outbox.CountAsync(mail => mail.State == MailState.Pending || mail.State == MailState.Sending);
        var digests = await store.Outbox.CountAsync(mail => mail.Key.StartsWith("digest:"));
        return open + (Sites * PeopleAtSite) - digests;
    }

    public async Task<int> RoundsAsync()
    {
        await using var store = kept.Factory.CreateDbContext();
        return await store.Mornings.CountAsync();
    }

    public async Task<int> DigestsAsync()
    {
        await using var store = kept.Factory.CreateDbContext();
        return await store.Outbox.CountAsync(mail => mail.Key.StartsWith("digest:"));
    }

    public async Task<IReadOnlyDictionary<MailState, int>> StatesAsync()
    {
        await using var store = kept.Factory.CreateDbContext();
        return (await store.Outbox.GroupBy(mail => mail.State).Select(group => new { group.Key, Count = group.Count() }).ToListAsync()).ToDictionary(one => one.Key, one => one.Count);
    }

    /// <summary>Until it is disposed of, a round that writes down that it was done takes minutes over it, and is not committed meanwhile.</summary>
    public async Task<IAsyncDisposable> StallRoundsAsync()
    {
        await CommandAsync("""
            CREATE TRIGGER "Stall" BEFORE INSERT ON "Mornings" BEGIN
                SELECT COUNT(a."Id" * b."Id" * c."Id" * d."Id" * e."Id" * f."Id")
                FROM "Outbox" a, "Outbox" b, "Outbox" c, "Outbox" d, "Outbox" e, "Outbox" f WHERE a."Id" + b."Id" + c."Id" + d."Id" + e."Id" + f."Id" > 0;
            END
            """);
        return new Stall(this);
    }

    /// <summary>Whether somebody is writing, and goes on writing.</summary>
    public async Task<bool> IsBusyAsync()
    {
        try
        {
            await CommandAsync("BEGIN IMMEDIATE; ROLLBACK", seconds: 3);
            return false;
        }
        catch (SqliteException locked) when (locked.SqliteErrorCode == 5) // SQLITE_BUSY
        {
            return true;
        }
    }

    /// <summary>Nothing was lost or doubled in the store, and the file is whole.</summary>
    public async Task AssertWholeAsync()
    {
        await using var store = kept.Factory.CreateDbContext();
        if (kept.Factory.File is not null)
            Assert.Equal(["ok"], await store.Database.SqlQueryRaw<string>("PRAGMA integrity_check").ToListAsync());
        var rounds = await store.Mornings.GroupBy(morning => new { morning.SiteId, morning.On }).Select(group => group.Count()).ToListAsync();
        Assert.Equal(Enumerable.Repeat(1, Sites), rounds);
        Assert.Equal(Sites * PeopleAtSite, await store.Outbox.CountAsync(mail => mail.Key.StartsWith("digest:")));
    }

    /// <summary>What arrived against what was due: nothing lost, nothing changed.</summary>
    /// <returns>Message-IDs that came more than once, each as often as it came too much.</returns>
    public async Task<IReadOnlyList<string>> DoublesAsync(IReadOnlyCollection<ScriptedRelay.Content> came)
    {
        var copies = came.GroupBy(content => content.MessageId).ToList();
        var due = await DueAsync();
        Assert.Empty(due.Where(mail => !copies.Exists(copy => copy.Key == mail.Key)).Select(mail => mail.Value)); // lost
        Assert.Empty(copies.Select(copy => copy.Key).Except(due.Keys));
        Assert.All(copies, copy => Assert.Single(copy.Select(content => content.Text).Distinct())); // byte for byte
        return [.. copies.SelectMany(copy => Enumerable.Repeat(copy.Key, copy.Count() - 1))];
    }

    public ValueTask DisposeAsync() => kept.DisposeAsync();

    private async Task CommandAsync(string sql, int seconds = 60)
    {
        await using var connection = new SqliteConnection($"Data Source={kept.Factory.File};Pooling=False");
        await connection.OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.CommandTimeout = seconds;
        await command.ExecuteNonQueryAsync();
    }

    private sealed class Stall(KilledStore store) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync() => await store.CommandAsync("""DROP TRIGGER "Stall" """);
    }

    private async Task FillAsync(int waiting, int coming)
    {
        await using var store = kept.Factory.CreateDbContext();
        var now = Clocks.System.GetCurrentInstant();
        var cooperative = new Cooperative { Name = "Alder Lane growers", GrowersReadAll = true };
        store.Add(cooperative);
        await store.SaveChangesAsync();
        for (var i = 1; i <= Sites; i++)
        {
            var site = new Site { CooperativeId = cooperative.Id, Name = $"Site {i}", Latitude = 45, Longitude = 9, Elevation = 100, ZoneId = ZoneAtEight(now) };
            store.Add(site);
            await store.SaveChangesAsync();
            for (var j = 1; j <= PeopleAtSite; j++)
            {
                var person = new Person { CooperativeId = cooperative.Id, Name = $"Grower {i}.{j}", Email = $"grower{i}.{j}@growers.invalid", EmailConfirmedAt = now };
                person.Sites.Add(new PersonSite { SiteId = site.Id });
                store.Add(person);
            }

            await store.SaveChangesAsync();
        }

        for (var i = 1; i <= waiting + coming; i++)
        {
            Assert.True(await store.AddIfNewAsync(new OutgoingMail
            {
                Key = $"note:{i}",
                CooperativeId = cooperative.Id,
                ToName = $"Reader {i}",
                ToAddress = $"reader{i}@growers.invalid",
                Subject = $"Note {i}",
                TextBody = $"This is note {i}.",
                HtmlBody = $"<p>This is note {i}.</p>",
                MessageId = $"note.{i}@alder.invalid",
                NextTryAt = i <= waiting ? now : now + Duration.FromMilliseconds(200 * (i - waiting)),
                NotAfter = now + Duration.FromHours(6) + Duration.FromSeconds(i),
                CreatedAt = now,
            }));
        }
    }

    /// <summary>A zone in which it is morning now, so that rounds are due and their mails still of use.</summary>
    private static string ZoneAtEight(Instant now)
    {
        var hours = 8 - now.InUtc().Hour; // -15 to 8
        if (hours < -12)
            hours += 24;
        return hours == 0 ? "Etc/GMT" : $"Etc/GMT{(hours > 0 ? '-' : '+')}{Math.Abs(hours)}"; // the sign of these names is the other way round
    }
}
