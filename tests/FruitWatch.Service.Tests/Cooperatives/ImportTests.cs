using System.Text.Json.Nodes;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Pages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Tests.Cooperatives;

public sealed class ImportTests
{
    /// <summary>Changes a good file in one place; the error names the place, and nothing is written.</summary>
    public static TheoryData<string, string, string> Faults => new()
    {
        { "schema", "\"fruitwatch-cooperative/2\"", "schema:" },
        { "cooperative/name", "\"\"", "cooperative.name:" },
        { "cooperative/name", "\"two\\nlines\"", "cooperative.name:" },
        { "cooperative/growersReadAll", "\"yes\"", "cooperative.growersReadAll:" },
        { "extra", "1", "extra:" },
        { "sites", "null", "sites:" },
        { "sites/0", "7", "sites[0]:" },
        { "sites/0/id", "2", "sites[0].id:" },
        { "sites/0/colour", "1", "sites[0].colour:" },
        { "sites/0/latitude", "\"north\"", "sites[0].latitude:" },
        { "sites/0/latitude", "91", "sites[0]:" },
        { "sites/0/latitude", "1e999", "sites[0].latitude:" },
        { "sites/0/zoneId", "\"Mars/Olympus\"", "sites[0].zoneId:" },
        { "sites/0/morningAt", "\"25:00:00\"", "sites[0].morningAt:" },
        { "sites/0/forecastFeedId", "99", "sites[0].forecastFeedId:" },
        { "sites/0/name", "null", "sites[0].name:" },
        { "feeds/0/key", "\"../../etc/passwd\"", "feeds[0].key:" },
        { "feeds/0/description", "12", "feeds[0].description:" },
        { "people/0/email", "\"nobody\"", "people[0].email:" },
        { "people/0/role", "\"king\"", "people[0].role:" },
        { "beds/0/siteId", "0", "beds[0].siteId:" },
        { "beds/0/speciesKey", "\"dragon\"", "beds[0].speciesKey:" },
        { "beds/0/inoculatedOn", "\"2026-02-30\"", "beds[0].inoculatedOn:" },
        { "log/0/kind", "\"sung-to\"", "log[0].kind:" },
        { "log/0/amount", "-1", "log[0].amount:" },
        { "log/0/replacesId", "1", "log[0].replacesId:" },
        { "log/0/recordedBy", "\"person:77\"", "log[0].recordedBy:" },
        { "log/0/note", "\"\\ud800\"", "log[0].note:" },
        { "log/0/note", "\"a\\u0000b\"", "log[0].note:" },
        { "weather/1/date", "\"2026-02-16\"", "weather[1]:" },
        { "notices/0/reason", "{\"code\":\"nothing\"}", "notices[0]:" },
        { "notices/0/issuedAt", "\"yesterday\"", "notices[0].issuedAt:" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public async Task What_is_wrong_is_told_by_its_place_and_nothing_is_half_written(string place, string value, string told)
    {
        await using var service = await TestService.StartAsync();
        await using var to = await TestStores.OpenAsync("sqlite");
        var file = JsonNode.Parse(await GoodAsync(service))!;
        var parts = place.Split('/');
        var node = file;
        foreach (var part in parts[..^1])
            node = int.TryParse(part, out var number) ? node![number] : node![part];
        const string mark = "\u0001here\u0001";
        if (int.TryParse(parts[^1], out var last))
            node![last] = mark;
        else
            node![parts[^1]] = mark;
        var text = file.ToJsonString().Replace("\"\\u0001here\\u0001\"", value, StringComparison.Ordinal);

        var refused = await Assert.ThrowsAsync<ImportException>(() => to.ImportAsync(text));
        Assert.StartsWith(told, refused.Errors[0], StringComparison.Ordinal);
        await using var store = to.Factory.CreateDbContext();
        Assert.Empty(store.Cooperatives);
        Assert.Empty(store.Audit);
    }

    [Theory]
    [InlineData("", "line 1")]
    [InlineData("[]", "schema:")]
    [InlineData("{\"schema\":\"fruitwatch-cooperative/1\"", "line 1")]
    [InlineData("{\"schema\":\"fruitwatch-cooperative/1\",\"sites\":[],\"sites\":[]}", "line")]
    [InlineData("PK\u0003\u0004", "line 1")]
    public async Task A_file_that_is_none_is_told_as_such(string text, string told)
    {
        await using var to = await TestStores.OpenAsync("sqlite");
        var refused = await Assert.ThrowsAsync<ImportException>(() => to.ImportAsync(text));
        Assert.StartsWith(told, refused.Errors[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_name_that_is_taken_is_refused_unless_another_is_given()
    {
        await using var service = await TestService.StartAsync();
        await using var to = await TestStores.OpenAsync("sqlite");
        var good = await GoodAsync(service);
        await to.ImportAsync(good);
        var refused = await Assert.ThrowsAsync<ImportException>(() => to.ImportAsync(good));
        Assert.Contains("--name", refused.Message, StringComparison.Ordinal);
        Assert.Equal("Elsewhere", (await to.ImportAsync(good, "Elsewhere")).Name);
        await using var store = to.Factory.CreateDbContext();
        Assert.Equal(2, await store.Cooperatives.CountAsync(TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task The_commands_export_list_import_and_delete_by_the_key_and_the_name()
    {
        await using var service = await TestService.StartAsync();
        var file = Path.Combine(Directory.CreateTempSubdirectory("fruitwatch-").FullName, "out.json");
        var said = new StringWriter();
        await CooperativeVerb.ExportAsync(service.Services, service.Invented.Cooperative, file, "json", said);
        await Assert.ThrowsAsync<VerbException>(() => CooperativeVerb.ExportAsync(service.Services, service.Invented.Cooperative, file, "json", said));
        await Assert.ThrowsAsync<VerbException>(() => CooperativeVerb.ExportAsync(service.Services, 999, file + "2", "json", said));
        await Assert.ThrowsAsync<VerbException>(() => CooperativeVerb.ImportAsync(service.Services, file, null, said));
        await CooperativeVerb.ImportAsync(service.Services, file, "The same again", said);
        await CooperativeVerb.ListAsync(service.Services, said);
        Assert.Contains("The same again", said.ToString(), StringComparison.Ordinal);
        await using var store = service.Store();
        var made = await store.Cooperatives.Where(row => row.Name == "The same again").Select(row => row.Id).SingleAsync(TestContext.Current.CancellationToken);
        await Assert.ThrowsAsync<VerbException>(() => CooperativeVerb.DeleteAsync(service.Services, made, "Something else", said));
        await CooperativeVerb.DeleteAsync(service.Services, made, "The same again", said);
        Assert.Equal([service.Invented.Cooperative], await store.Cooperatives.Select(row => row.Id).ToListAsync(TestContext.Current.CancellationToken));
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
    }

    private static async Task<string> GoodAsync(TestService service)
    {
        using var client = service.Client();
        return await client.GetStringAsync("/api/v1/cooperative/export");
    }
}
