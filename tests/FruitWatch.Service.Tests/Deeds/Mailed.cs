using System.Security.Cryptography;
using System.Text;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Deeds;

/// <summary>Links as they stand in mails of the invented cooperative, and what is kept beside them.</summary>
internal static class Mailed
{
    public static string Link(this TestService service, Deed deed, long notice, long person, Duration? lasts = null, int revision = 0) =>
        DeedLinks.Path + service.Services.GetRequiredService<DeedLinks>().TokenOf(
            new DeedLink(deed, notice, revision, person, InventedCooperative.Now + (lasts ?? DeedLinks.For)));

    /// <summary>The open notice of a kind at a bed.</summary>
    public static async Task<long> NoticeAsync(this TestService service, long bed, NoticeKind kind)
    {
        await using var store = service.Store();
        var word = NoticeRows.WordOf(kind);
        return await store.Notices.Where(row => row.BedId == bed && row.Kind == word && row.State == NoticeState.Open).Select(row => row.Id).SingleAsync();
    }

    /// <summary>The water notice of the bed under the hazels: 25 litres.</summary>
    public static Task<long> WaterAsync(this TestService service) => service.NoticeAsync(service.Invented.Hazels, NoticeKind.Water);

    /// <summary>A notice that is open at a bed.</summary>
    public static async Task<long> OpenAsync(this TestService service, long site, long bed, NoticeDraft draft)
    {
        await using var store = service.Store();
        var row = NoticeRows.Open(site, bed, new NoticeOpened(draft.Kind, 50, draft), InventedCooperative.Today, InventedCooperative.Now);
        store.Notices.Add(row);
        await store.SaveChangesAsync();
        return row.Id;
    }

    public static Task<Member> JoinAsync(this TestService service, Role role, string name, params long[] sites) =>
        Member.JoinAsync(service.Services, service.Invented.Cooperative, role, name, sites);

    public static async Task ChangeAsync(this TestService service, long person, Action<Person> change)
    {
        await using var store = service.Store();
        change(await store.People.SingleAsync(row => row.Id == person));
        await store.SaveChangesAsync();
    }

    /// <summary>All that the store holds, to the byte.</summary>
    public static async Task<string> PrintAsync(this TestService service)
    {
        await using var store = service.Store();
        var connection = store.Database.GetDbConnection();
        await connection.OpenAsync();
        var tables = new List<string>();
        await using (var list = connection.CreateCommand())
        {
            list.CommandText = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name";
            await using var names = await list.ExecuteReaderAsync();
            while (await names.ReadAsync())
                tables.Add(names.GetString(0));
        }

        using var print = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var table in tables)
        {
            await using var all = connection.CreateCommand();
            all.CommandText = $"SELECT * FROM \"{table}\"";
            await using var rows = await all.ExecuteReaderAsync();
            while (await rows.ReadAsync())
            {
                for (var i = 0; i < rows.FieldCount; i++)
                    print.AppendData(Encoding.UTF8.GetBytes($"{table}.{i}={rows.GetValue(i)};"));
            }
        }

        return Convert.ToHexString(print.GetHashAndReset());
    }
}
