using System.Net;
using System.Reflection;
using System.Text;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Cooperatives;

/// <summary>Deleted is deleted: no row, no file, no byte.</summary>
public sealed class RemovalTests
{
    private static readonly string[] s_marks =
        ["Alder Lane Growers", "Straw ring", "Maren Oakhurst", "maren.oakhurst@example.org", "Rowan Field", "rowan@alder-lane.example", "Still dry underneath", "Hill Station"];

    [Fact]
    public async Task After_a_cooperative_is_deleted_no_row_of_any_table_and_no_byte_of_any_file_tells_of_it()
    {
        await using var service = await TestService.StartAsync();
        var options = service.Services.GetRequiredService<ServiceOptions>();
        long other;
        await using (var store = service.Store())
        {
            await Everything.FillAsync(store, service.Invented.Cooperative, service.Coordinator.PersonId);
            other = await new AnyCooperative(11).MakeAsync(store);
            await Everything.FillAsync(store, other, await store.People.Where(row => row.CooperativeId == other).MinAsync(row => row.Id, TestContext.Current.CancellationToken));
        }

        await FilesAsync(service, options);
        Assert.All(s_marks, mark => Assert.True(Found(options.DataFolder, mark), $"{mark} is nowhere from the start"));
        var (before, ours) = (await CountsAsync(service, null), await CountsAsync(service, service.Invented.Cooperative));
        Assert.All(ours, one => Assert.True(one.Value > 0, $"{one.Key} has no row of the cooperative: the test would prove nothing of it"));

        using var api = new ApiClient(service);
        Assert.Equal(["name"], (await api.SendAsync("DELETE", "/api/v1/cooperative?name=Another%20name", null)).Refused);
        Assert.Equal(before, await CountsAsync(service, null));
        Assert.Equal(HttpStatusCode.NoContent, (await api.SendAsync("DELETE", "/api/v1/cooperative?name=Alder%20Lane%20Growers", null)).Status);

        // The one line that stays says that it was done, and names nobody.
        // What the service itself sent to an account that is gone goes as well, though it belongs to no cooperative.
        var expected = before.ToDictionary(one => one.Key, one => one.Value - ours[one.Key] + one.Key switch { nameof(AuditEntry) => 1, nameof(OutgoingMail) => -1, _ => 0 });
        var left = await CountsAsync(service, null);
        Assert.All(expected, one => Assert.True(one.Value == left[one.Key], $"{one.Key}: {left[one.Key]} instead of {one.Value}"));
        await using (var store = service.Store())
        {
            var line = await store.Audit.SingleAsync(row => row.CooperativeId == null && row.Action == "cooperative.deleted", TestContext.Current.CancellationToken);
            Assert.Null(line.Detail);
            Assert.Empty(await store.Accounts.ToListAsync(TestContext.Current.CancellationToken));
        }

        Assert.All(s_marks, mark => Assert.False(Found(options.DataFolder, mark), $"{mark} can still be read"));
        using var client = service.Client();
        Assert.Equal(HttpStatusCode.Unauthorized, (await client.GetAsync("/api/v1/beds", TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task From_the_page_its_name_has_to_be_typed()
    {
        await using var service = await TestService.StartAsync();
        using var browser = service.Browser();
        var page = await browser.OpenAsync("/cooperative/delete");
        using var wrong = await browser.SubmitAsync(page.QuerySelector("main form button")!, ("name", "alder lane growers"));
        Assert.Equal(HttpStatusCode.BadRequest, wrong.StatusCode);
        await using (var store = service.Store())
            Assert.Single(await store.Cooperatives.ToListAsync(TestContext.Current.CancellationToken));
        using var done = await browser.SubmitAsync(page.QuerySelector("main form button")!, ("name", " Alder Lane Growers "));
        Assert.Equal("/cooperative/deleted", done.RequestMessage!.RequestUri!.AbsolutePath);
        Assert.Equal(HttpStatusCode.OK, done.StatusCode);
        await using var after = service.Store();
        Assert.Empty(await after.Cooperatives.ToListAsync(TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task After_a_person_is_removed_their_name_and_address_are_nowhere_and_their_entries_stay_without_them()
    {
        await using var service = await TestService.StartAsync();
        var options = service.Services.GetRequiredService<ServiceOptions>();
        var member = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Grower, "Ilse Vanhoof");
        int entries;
        await using (var store = service.Store())
        {
            await Everything.FillAsync(store, service.Invented.Cooperative, member.PersonId);
            store.LogEntries.AddRange(
                Entry(service.Invented.Straw, "Ilse Vanhoof"), Entry(service.Invented.Straw, "ilse.vanhoof@example.org"), Entry(service.Invented.Straw, $"person:{member.PersonId}"), Entry(service.Invented.Straw, "Rosalia"));
            // A coordinator was told that mail to her came back, and another that it does to somebody whose key begins alike.
            store.Outbox.AddRange(
                Note(service, $"address-paused:{member.PersonId}:20261012T060000000000:{service.Coordinator.PersonId}", "Mail to Ilse Vanhoof (ilse.vanhoof@example.org) comes back"),
                Note(service, $"address-paused:{member.PersonId}1:20261012T060000000000:{service.Coordinator.PersonId}", "Mail to Rosalia comes back"));
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
            await service.Services.GetRequiredService<Service.Channels.Email.MailSender>().SendDueAsync(TestContext.Current.CancellationToken);
            entries = await store.LogEntries.CountAsync(TestContext.Current.CancellationToken);
        }

        Assert.True(Found(options.DataFolder, "Ilse Vanhoof") && Found(options.DataFolder, "ilse.vanhoof@example.org"));
        Assert.Null(await RemoveAsync(service, member.PersonId));

        await using var after = service.Store();
        Assert.Equal(entries, await after.LogEntries.CountAsync(TestContext.Current.CancellationToken));
        Assert.Equal(["Rosalia", "former-member"], await after.LogEntries.Where(row => row.RecordedBy != null).Select(row => row.RecordedBy!).Distinct().OrderBy(name => name).ToListAsync(TestContext.Current.CancellationToken));
        Assert.False(await after.Accounts.AnyAsync(row => row.Id == member.AccountId, TestContext.Current.CancellationToken));
        foreach (var table in after.Model.GetEntityTypes().Where(table => table.FindProperty("PersonId") is not null && table.ClrType != typeof(AuditEntry)))
            Assert.Equal(0, await CountAsync(after, table.ClrType, $"\"PersonId\" = {member.PersonId}"));
        Assert.Equal(member.PersonId.ToString(System.Globalization.CultureInfo.InvariantCulture), (await after.Audit.SingleAsync(row => row.Action == "person.deleted", TestContext.Current.CancellationToken)).SubjectId);
        foreach (var mark in new[] { "Ilse Vanhoof", "ilse.vanhoof", "ILSE.VANHOOF" })
            Assert.False(Found(options.DataFolder, mark), $"{mark} can still be read");
        Assert.Equal("Mail to Rosalia comes back", (await after.Outbox.SingleAsync(row => row.Key.StartsWith("address-paused:"), TestContext.Current.CancellationToken)).Subject);
        Assert.Single(Directory.GetFiles(options.MailFolder), file => File.ReadAllText(file).Contains("Rosalia comes back", StringComparison.Ordinal));
        using var client = service.Client(member);
        Assert.Equal(HttpStatusCode.Unauthorized, (await client.GetAsync("/api/v1/beds", TestContext.Current.CancellationToken)).StatusCode);
        using var others = service.Client();
        Assert.Equal(HttpStatusCode.OK, (await others.GetAsync("/api/v1/beds", TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task An_account_that_opens_another_cooperative_or_runs_the_service_stays()
    {
        await using var service = await TestService.StartAsync();
        var twice = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Viewer, "Member Twice");
        var operating = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Viewer, "Operator Too", operating: true);
        await using (var store = service.Store())
        {
            var other = new Cooperative { Name = "Others" };
            store.Add(other);
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
            store.Add(new Person { CooperativeId = other.Id, AccountId = twice.AccountId, Name = "Member Twice", Email = "member.twice@example.org" });
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        Assert.Null(await RemoveAsync(service, twice.PersonId));
        Assert.Null(await RemoveAsync(service, operating.PersonId));
        await using var after = service.Store();
        Assert.True(await after.Accounts.AnyAsync(row => row.Id == twice.AccountId, TestContext.Current.CancellationToken));
        Assert.True(await after.Accounts.AnyAsync(row => row.Id == operating.AccountId, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task The_last_coordinator_stays_and_the_last_but_one_goes()
    {
        await using var service = await TestService.StartAsync();
        Assert.Equal(PersonRefusal.LastCoordinator, await RemoveAsync(service, service.Coordinator.PersonId));
        var second = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Coordinator, "Second Coordinator");
        // Both at once: one of them stays.
        var both = await Task.WhenAll(Task.Run(() => RemoveAsync(service, service.Coordinator.PersonId)), Task.Run(() => RemoveAsync(service, second.PersonId)));
        Assert.Single(both, PersonRefusal.LastCoordinator);
        await using var after = service.Store();
        Assert.Single(await after.People.Where(row => row.Role == Role.Coordinator).ToListAsync(TestContext.Current.CancellationToken));
    }

    private static async Task<PersonRefusal?> RemoveAsync(TestService service, long personId)
    {
        await using var scope = service.Services.CreateAsyncScope();
        await using var store = service.Store();
        var person = await store.People.AsNoTracking().SingleAsync(row => row.Id == personId);
        return await scope.ServiceProvider.GetRequiredService<PersonRemoval>().RemoveAsync(person, default);
    }

    private static OutgoingMail Note(TestService service, string key, string subject) => new()
    {
        Key = key,
        CooperativeId = service.Invented.Cooperative,
        PersonId = service.Coordinator.PersonId,
        ToName = "Maren",
        ToAddress = "maren@example.org",
        Subject = subject,
        TextBody = subject,
        HtmlBody = $"<p>{subject}</p>",
        MessageId = $"{key.Replace(':', '.')}@example.org",
        NextTryAt = InventedCooperative.Now,
        NotAfter = InventedCooperative.Now + Duration.FromDays(7),
        CreatedAt = InventedCooperative.Now,
    };

    private static LogEntry Entry(long bed, string by) =>
        new() { BedId = bed, On = new LocalDate(2026, 10, 1), Kind = "no-pins", RecordedAt = InventedCooperative.Now, RecordedBy = by };

    private static async Task FilesAsync(TestService service, ServiceOptions options)
    {
        Directory.CreateDirectory(options.FeedFolder(service.Invented.Cooperative));
        await File.WriteAllTextAsync(Path.Combine(options.FeedFolder(service.Invented.Cooperative), "hill-station.csv"), "Hill Station of Alder Lane Growers");
        await service.Services.GetRequiredService<Service.Channels.Email.MailSender>().SendDueAsync(default);
        Assert.NotEmpty(Directory.GetFiles(options.MailFolder));
    }

    private static async Task<Dictionary<string, long>> CountsAsync(TestService service, long? cooperative)
    {
        var reach = Reach.Everything;
        if (cooperative is { } key)
        {
            reach = new Reach();
            reach.Open(key, "test", service.Services.GetRequiredService<IClock>());
        }

        await using var store = service.Services.GetRequiredService<StoreFactory>().CreateDbContext(reach);
        var counts = new Dictionary<string, long>();
        foreach (var table in CooperativeRemoval.ChildrenFirst(store.Model))
        {
            counts[table.ClrType.Name] = await (Task<int>)typeof(RemovalTests).GetMethod(nameof(CountAsync), BindingFlags.NonPublic | BindingFlags.Static, [typeof(FruitWatchStore)])!
                .MakeGenericMethod(table.ClrType).Invoke(null, [store])!;
        }

        return counts;
    }

    private static Task<int> CountAsync<T>(FruitWatchStore store)
        where T : class => store.Set<T>().CountAsync();

    private static Task<int> CountAsync(FruitWatchStore store, Type table, string where)
    {
        var sql = $"SELECT COUNT(*) AS \"Value\" FROM \"{store.Model.FindEntityType(table)!.GetTableName()}\" WHERE {where}";
        return store.Database.SqlQueryRaw<int>(sql).SingleAsync();
    }

    /// <summary>Whether any file below a folder holds a text, as UTF-8 or UTF-16.</summary>
    private static bool Found(string folder, string text) => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Any(file =>
    {
        using var stream = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        var bytes = copy.ToArray().AsSpan();
        return bytes.IndexOf(Encoding.UTF8.GetBytes(text)) >= 0 || bytes.IndexOf(Encoding.Unicode.GetBytes(text)) >= 0;
    });
}
