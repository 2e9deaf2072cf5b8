using System.Text;
using FruitWatch.Service.Tests.Pages;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace FruitWatch.Service.Tests.Access;

/// <summary>Robots, link scanners and browsers that read ahead open whatever they find: ASVS 5.0 3.5.3, RFC 9110 §9.2.1 (safe methods).</summary>
public sealed class ReadingTests
{
    /// <summary>Columns that note a use and nothing else.</summary>
    private static readonly string[] s_noted = ["LastUsedAt"];

    [Fact]
    public async Task Whatever_is_read_nothing_is_changed()
    {
        await using var service = await TestService.StartAsync();
        var operating = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Store.Entities.Role.Coordinator, "Wren", operating: true);
        using var client = service.Client(operating);
        var keys = KeysKept.Of(service);
        var before = await RowsAsync(service);
        var asked = 0;
        foreach (var address in Address.All(service).Where(address => address.IsRead))
        {
            foreach (var method in new[] { HttpMethod.Get, HttpMethod.Head })
            {
                using var answer = await client.SendAsync(new HttpRequestMessage(method, address.Fill(keys)));
                asked++;
                var after = await RowsAsync(service);
                Assert.True(before == after, $"{method} {address} ({(int)answer.StatusCode}) changed something");
            }
        }

        Assert.True(asked > 60, $"only {asked} were asked");
    }

    private static async Task<string> RowsAsync(TestService service)
    {
        await using var store = service.Store();
        await store.Database.OpenConnectionAsync();
        var rows = new StringBuilder();
        foreach (var table in store.Model.GetEntityTypes().Where(table => !table.IsOwned()))
        {
            var name = table.GetTableName()!;
            var columns = table.GetProperties().Select(column => column.GetColumnName(StoreObjectIdentifier.Table(name, null))!).Except(s_noted);
            await using var command = store.Database.GetDbConnection().CreateCommand();
            // That everything was taken along is noted; no browser can be led to take it, since it asks for a token.
            var but = name == "Audit" ? " WHERE \"Action\" <> 'cooperative.exported'" : "";
            command.CommandText = $"SELECT {string.Join(", ", columns.Select(column => $"\"{column}\""))} FROM \"{name}\"{but}";
            await using var reader = await command.ExecuteReaderAsync();
            while (await reader.ReadAsync())
            {
                for (var i = 0; i < reader.FieldCount; i++)
                    rows.Append(reader.GetValue(i)).Append('\t');
                rows.Append('\n');
            }
        }

        return Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(Encoding.UTF8.GetBytes(rows.ToString())));
    }
}
