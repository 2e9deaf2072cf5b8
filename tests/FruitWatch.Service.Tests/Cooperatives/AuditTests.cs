using System.Net;
using System.Text.RegularExpressions;
using FruitWatch.Service.Jobs;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Cooperatives;

/// <summary>Who did what. Sources: ASVS 5.0 16.3.1 to 16.3.4, 16.4.1.</summary>
public sealed partial class AuditTests
{
    [Fact]
    public async Task Deeds_are_listed_with_who_and_what_the_last_first_in_parts_and_by_question()
    {
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        Assert.Equal(HttpStatusCode.OK, (await api.SendAsync("PUT", "/api/v1/cooperative", """{"name":"Renamed growers","growersReadAll":true}""")).Status);
        await api.SendAsync("POST", $"/api/v1/beds/{service.Invented.Straw}/log", """{"kind":"no-pins","on":"2026-10-13"}""");
        var all = await api.GetAsync("/api/v1/audit?limit=1");
        var entry = all.Json.GetProperty("items")[0];
        Assert.Equal("log-entry.made", entry.GetProperty("action").GetString());
        Assert.Equal(service.Coordinator.PersonId, entry.GetProperty("personId").GetInt64());
        Assert.StartsWith("token:", entry.GetProperty("via").GetString(), StringComparison.Ordinal);
        var next = await api.GetAsync(all.Json.GetProperty("next").GetString()!);
        var renamed = next.Json.GetProperty("items")[0];
        Assert.Equal("cooperative.changed", renamed.GetProperty("action").GetString());
        // Of text only that it changed; of words before and after.
        Assert.Equal("""{"growersReadAll":["False","True"],"name":null}""", renamed.GetProperty("detail").GetRawText().Replace(" ", "", StringComparison.Ordinal));
        Assert.Single((await api.GetAsync("/api/v1/audit?subject=cooperative")).Json.GetProperty("items").EnumerateArray());
        Assert.Empty((await api.GetAsync("/api/v1/audit?subject=cooperative/99")).Json.GetProperty("items").EnumerateArray());
        Assert.Empty((await api.GetAsync("/api/v1/audit?since=2026-10-15")).Json.GetProperty("items").EnumerateArray());
        Assert.Empty((await api.GetAsync("/api/v1/audit?personId=999")).Json.GetProperty("items").EnumerateArray());
        Assert.Equal(["personId", "since", "subject"], (await api.GetAsync("/api/v1/audit?personId=x&subject=B%25&since=soon")).Refused.Order());

        foreach (var (language, said) in new[] { ("en", "Cooperative: changed"), ("es", "Cooperativa: cambio") })
        {
            using var browser = service.Client();
            browser.Speak(language);
            var page = await browser.OpenAsync("/cooperative/audit?subject=cooperative&person=&since=");
            Assert.Contains(said, page.QuerySelector("tbody")!.Read(), StringComparison.Ordinal);
            Assert.Contains("Maren Oakhurst", page.QuerySelector("tbody")!.Read(), StringComparison.Ordinal);
            Assert.DoesNotContain("Anotación", page.QuerySelector("tbody")!.Read(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Other_cooperatives_and_other_roles_see_none_of_it()
    {
        await using var service = await TestService.StartAsync();
        var grower = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Grower, "Rowan Field");
        using var client = service.Client(grower);
        foreach (var path in new[] { "/api/v1/audit", "/cooperative/audit", "/cooperative", "/cooperative/export", "/cooperative/delete", "/cooperative/webhooks" })
            Assert.Equal(HttpStatusCode.Forbidden, (await client.GetAsync(path, TestContext.Current.CancellationToken)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/api/v1/cooperative", TestContext.Current.CancellationToken)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await client.PutAsync("/api/v1/cooperative", null, TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task It_is_kept_for_two_years()
    {
        await using var service = await TestService.StartAsync();
        var now = InventedCooperative.Now;
        await using (var store = service.Store())
        {
            store.Audit.AddRange(
                new AuditEntry { At = Instant.FromUtc(2024, 10, 14, 6, 29), Via = "test", Action = "old" },
                new AuditEntry { At = Instant.FromUtc(2024, 10, 14, 6, 31), Via = "test", Action = "kept" });
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        await using (var scope = service.Services.CreateAsyncScope())
            await scope.ServiceProvider.GetRequiredService<HousekeepingJobs>().NightAsync(default);
        await using var after = service.Store();
        Assert.Equal(["kept"], await after.Audit.Select(row => row.Action).ToListAsync(TestContext.Current.CancellationToken));
        Assert.Equal(now, service.Services.GetRequiredService<IClock>().GetCurrentInstant());
    }

    [Fact]
    public async Task An_entry_is_never_changed_or_taken_out_one_by_one()
    {
        await using var service = await TestService.StartAsync();
        await using var store = service.Store();
        var entry = new AuditEntry { At = InventedCooperative.Now, Via = "test", Action = "bed.changed" };
        store.Audit.Add(entry);
        await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        entry.Action = "bed.made";
        await Assert.ThrowsAsync<InvalidOperationException>(() => store.SaveChangesAsync(TestContext.Current.CancellationToken));
        store.ChangeTracker.Clear();
        store.Audit.Remove(entry);
        await Assert.ThrowsAsync<InvalidOperationException>(() => store.SaveChangesAsync(TestContext.Current.CancellationToken));
    }

    /// <summary>What goes past the store's own guard is told from the text of the program: two places delete, none changes.</summary>
    [Fact]
    public void Nothing_in_the_program_changes_entries_and_only_the_night_deletes_old_ones()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "FruitWatch.sln")))
            folder = folder.Parent!;
        var found = Directory.EnumerateFiles(Path.Combine(folder.FullName, "src"), "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains("/obj/", StringComparison.Ordinal) && !file.Contains("/Migrations/", StringComparison.Ordinal))
            .Where(file => Changes().IsMatch(File.ReadAllText(file))).Select(Path.GetFileName);
        Assert.Equal(["HousekeepingJobs.cs"], found);
    }

    [GeneratedRegex("""\.Audit\b[^;]*\.(ExecuteUpdate|ExecuteDelete|Remove)|(UPDATE|DELETE FROM) "Audit""" + "\"", RegexOptions.Singleline)]
    private static partial Regex Changes();
}
