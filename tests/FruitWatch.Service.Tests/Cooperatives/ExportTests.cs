using System.IO.Compression;
using System.Net;
using System.Text.Json;
using CsvHelper;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Tests.Cooperatives;

public sealed class ExportTests
{
    /// <summary>The promise: out, in elsewhere, out again, and not a byte is another, whichever databases.</summary>
    [Theory]
    [InlineData("sqlite", "sqlite")]
    [InlineData("sqlite", "postgres")]
    [InlineData("postgres", "sqlite")]
    public async Task Any_cooperative_comes_back_from_elsewhere_byte_by_byte(string here, string there)
    {
        await using var from = await TestStores.OpenAsync(here);
        await using var to = await TestStores.OpenAsync(there);
        // Somebody is there already, so that the keys are others.
        await using (var store = to.Factory.CreateDbContext())
            await new AnyCooperative(4711).MakeAsync(store);
        for (var seed = 1; seed <= 25; seed++)
        {
            long made;
            await using (var store = from.Factory.CreateDbContext())
                made = await new AnyCooperative(seed).MakeAsync(store);
            var first = await from.ExportAsync(made);
            Assert.True(JsonDocument.Parse(first).RootElement.EnumerateObject().Count() == 17, $"seed {seed}");
            var second = await to.ExportAsync((await to.ImportAsync(first)).CooperativeId);
            Assert.True(first == second, $"seed {seed}:\n{Difference(first, second)}");
        }
    }

    [Fact]
    public async Task Every_field_of_every_table_is_exported_or_named_as_left_out()
    {
        await using var stores = await TestStores.OpenAsync("sqlite");
        await using var store = stores.Factory.CreateDbContext();
        var tables = ExportTables.Of(store.Model);
        var bounded = store.Model.GetEntityTypes().Where(table => table.GetDeclaredQueryFilters().Count > 0).ToList();
        Assert.Empty(bounded.Select(table => table.ClrType).Except(tables.Select(table => table.Kept.ClrType)).Except(ExportTables.LeftOutTables));
        Assert.Empty(tables.Select(table => table.Kept.ClrType).Intersect(ExportTables.LeftOutTables));
        foreach (var table in tables)
        {
            var missing = table.Kept.GetProperties().Select(property => property.Name)
                .Except(table.Columns.Select(column => column.Property.Name))
                .Except(["Version", "CooperativeId"])
                .Except(ExportTables.LeftOut.Where(one => one.Table == table.Kept.ClrType).Select(one => one.Field));
            Assert.Empty(table.Kept.ClrType == typeof(Cooperative) ? missing.Except(["Id"]) : missing);
        }

        // What is left out is there: a name that was changed is not left out any more.
        Assert.All(ExportTables.LeftOut, one => Assert.NotNull(store.Model.FindEntityType(one.Table)!.FindProperty(one.Field)));
    }

    [Fact]
    public async Task No_secret_is_in_it_and_nobody_is_let_in_by_it()
    {
        await using var from = await TestStores.OpenAsync("sqlite");
        await using var to = await TestStores.OpenAsync("sqlite");
        long made;
        await using (var store = from.Factory.CreateDbContext())
        {
            made = await new AnyCooperative(3).MakeAsync(store);
            await store.Feeds.ExecuteUpdateAsync(set => set.SetProperty(row => row.SealedKey, "SECRET-ONE"), TestContext.Current.CancellationToken);
            await store.Webhooks.ExecuteUpdateAsync(set => set.SetProperty(row => row.SealedSecret, "SECRET-TWO").SetProperty(row => row.Active, true), TestContext.Current.CancellationToken);
            await store.People.ExecuteUpdateAsync(set => set.SetProperty(row => row.Active, true), TestContext.Current.CancellationToken);
        }

        var json = await from.ExportAsync(made);
        Assert.DoesNotContain("SECRET", json, StringComparison.Ordinal);
        await to.ImportAsync(json);
        await using var there = to.Factory.CreateDbContext();
        Assert.NotEmpty(there.People);
        Assert.All(there.People, person => Assert.True(person is { Active: false, AccountId: null, EmailConfirmedAt: null }));
        Assert.All(there.Webhooks, hook => Assert.False(hook.Active));
        Assert.Equal("cooperative.imported", (await there.Audit.SingleAsync(TestContext.Current.CancellationToken)).Action);
    }

    /// <summary>Sources: RFC 4180 sections 2.6 and 2.7; ASVS 5.0 1.2.10.</summary>
    [Fact]
    public async Task In_a_spreadsheet_text_is_text_numbers_are_numbers_and_units_stand_in_the_head()
    {
        await using var service = await TestService.StartAsync();
        await using (var store = service.Store())
        {
            var bed = await store.Beds.SingleAsync(row => row.Id == service.Invented.Straw, TestContext.Current.CancellationToken);
            bed.Name = "=HYPERLINK(\"http://evil.example\",\"x\")";
            (await store.LogEntries.FirstAsync(TestContext.Current.CancellationToken)).Note = "+1 \"good\",\r\nnext line";
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        using var client = service.Client();
        using var answer = await client.GetAsync("/api/v1/cooperative/export?format=csv", TestContext.Current.CancellationToken);
        Assert.Equal("application/zip", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal("attachment", answer.Content.Headers.ContentDisposition!.DispositionType);
        using var zip = new ZipArchive(await answer.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken));
        Assert.Equal(16, zip.Entries.Count);
        Assert.Equal([0xEF, 0xBB, 0xBF], Bytes(zip, "sites.csv")[..3]);
        var sites = Rows(zip, "sites.csv");
        Assert.Equal("-3.1", sites[0]["longitude (°)"]);
        Assert.Equal("'=HYPERLINK(\"http://evil.example\",\"x\")", Rows(zip, "beds.csv")[0]["name"]);
        Assert.Equal("'+1 \"good\",\r\nnext line", Rows(zip, "log.csv")[0]["note"]);
        var weather = Rows(zip, "weather.csv");
        Assert.Contains("tmin (°C)", weather[0].Keys);
        Assert.Equal("2026-02-16", weather[0]["date"]);
        await using var after = service.Store();
        Assert.Equal(weather.Count, await after.Weather.CountAsync(TestContext.Current.CancellationToken));
        Assert.Contains("csv", (await after.Audit.SingleAsync(row => row.Action == "cooperative.exported", TestContext.Current.CancellationToken)).Detail!, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+49", "'+49")]
    [InlineData("-2", "'-2")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("\t=1", "'\t=1")]
    [InlineData("\r=1", "'\r=1")]
    [InlineData(" =1", "' =1")]
    [InlineData("\0x", "'\0x")]
    [InlineData("＝1", "'＝1")]
    [InlineData("Straw = good", "Straw = good")]
    [InlineData("5 - 3", "5 - 3")]
    [InlineData("", "")]
    public void What_begins_a_formula_gets_an_apostrophe(string text, string cell) => Assert.Equal(cell, ExportValues.Inert(text));

    [Fact]
    public async Task From_the_page_it_is_posted_and_noted_and_a_grower_gets_none()
    {
        await using var service = await TestService.StartAsync();
        using var browser = service.Browser();
        var page = await browser.OpenAsync("/cooperative/export");
        using var answer = await browser.SubmitAsync(page.QuerySelector("main form button")!);
        Assert.Equal("application/json", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal("fruitwatch-2026-10-14.json", answer.Content.Headers.ContentDisposition!.FileName);
        Assert.Contains("no-store", answer.Headers.CacheControl!.ToString(), StringComparison.Ordinal);
        Assert.Equal("fruitwatch-cooperative/1", JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).RootElement.GetProperty("schema").GetString());
        using var api = new ApiClient(service);
        var audit = await api.GetAsync("/api/v1/audit?subject=cooperative");
        Assert.Equal("cooperative.exported", audit.Json.GetProperty("items")[0].GetProperty("action").GetString());
        Assert.Equal(HttpStatusCode.BadRequest, (await api.GetAsync("/api/v1/cooperative/export?format=xlsx")).Status);
        var grower = await Access.Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Grower, "Rowan Field");
        using var client = service.Client(grower);
        Assert.Equal(HttpStatusCode.Forbidden, (await client.GetAsync("/api/v1/cooperative/export", TestContext.Current.CancellationToken)).StatusCode);
    }

    private static byte[] Bytes(ZipArchive zip, string name)
    {
        using var stream = zip.GetEntry(name)!.Open();
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }

    private static List<Dictionary<string, string>> Rows(ZipArchive zip, string name)
    {
        using var csv = CsvReader.Create(Bytes(zip, name).AsMemory(3), new CsvReaderOptions { HasHeader = false, AllowLineBreaksInQuotes = true, MalformedData = CsvMalformedDataHandling.Throw });
        var rows = new List<Dictionary<string, string>>();
        List<string>? head = null;
        while (csv.Read())
        {
            var row = Enumerable.Range(0, csv.FieldCount).Select(at => csv.GetString(at)).ToList();
            if (head is not null)
                rows.Add(head.Zip(row).ToDictionary(pair => pair.First, pair => pair.Second));
            head ??= row;
        }

        return rows;
    }

    private static string Difference(string first, string second)
    {
        var at = first.Zip(second).TakeWhile(pair => pair.First == pair.Second).Count();
        return $"at {at}: {first[Math.Max(0, at - 80)..Math.Min(first.Length, at + 80)]}\nand: {second[Math.Max(0, at - 80)..Math.Min(second.Length, at + 80)]}";
    }
}
