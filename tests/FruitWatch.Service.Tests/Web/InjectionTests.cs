using System.Collections.Concurrent;
using System.IO.Compression;
using System.Net;
using System.Text.Json;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace FruitWatch.Service.Tests.Web;

/// <summary>Test 30 of the service's table: names that mean harm are refused or inert wherever they come out. Sources: ASVS 5.0 1.2.1 to 1.2.10, 16.4.1.</summary>
public sealed class InjectionTests
{
    private static readonly string s_long = new('x', 10 * 1024);

    /// <summary>Names, and whether one may be called so.</summary>
    public static TheoryData<string, bool> Names => new()
    {
        { "Orchard\r\nBcc: evil@example.org", false },
        { "Orchard\nX-Evil: 1", false },
        { "Orchard\u2028next", false },
        { "Orchard\u0000", false },
        { "Orchard\u001b[31m", false },
        { "LONG", false },
        { "=cmd|' /C calc'!A0", true },
        { "<script>alert(1)</script>", true },
        { "\"><img src=x onerror=alert(1)>", true },
        { "{{7*7}} ${7*7} @(7*7)", true },
        { "'; DROP TABLE \"Beds\"; --", true },
        { "\u202Egnp.exe", true },
        { "Ñandú 北 🍄👩‍🌾", true },
    };

    [Theory]
    [MemberData(nameof(Names))]
    public async Task A_name_is_refused_or_comes_out_as_it_went_in_on_every_page_and_in_the_api(string name, bool good)
    {
        name = name == "LONG" ? s_long : name;
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        var renamed = await api.SendAsync("PUT", "/api/v1/cooperative", JsonSerializer.Serialize(new { name }));
        Assert.Equal(good ? HttpStatusCode.OK : HttpStatusCode.BadRequest, renamed.Status);
        var hook = await api.SendAsync("POST", "/api/v1/webhooks", JsonSerializer.Serialize(new { name, address = "https://example.org/", events = (string[])["bed.made"] }));
        Assert.Equal(good ? HttpStatusCode.Created : HttpStatusCode.BadRequest, hook.Status);
        using var browser = service.Browser();
        var form = await browser.OpenAsync("/cooperative");
        using var posted = await browser.SubmitAsync(form.QuerySelector("main form button")!, ("name", name));
        Assert.Equal(good ? HttpStatusCode.OK : HttpStatusCode.BadRequest, posted.StatusCode);
        if (!good)
            return;
        Assert.Equal(name, (await api.GetAsync("/api/v1/cooperative")).Json.GetProperty("name").GetString());

        // Beds and sites may have been named before there was a rule: what is kept is inert all the same.
        await using (var store = service.Store())
        {
            await store.Beds.ExecuteUpdateAsync(set => set.SetProperty(row => row.Name, name), TestContext.Current.CancellationToken);
            await store.Sites.ExecuteUpdateAsync(set => set.SetProperty(row => row.Name, name), TestContext.Current.CancellationToken);
            await store.LogEntries.ExecuteUpdateAsync(set => set.SetProperty(row => row.Note, name), TestContext.Current.CancellationToken);
        }

        foreach (var path in new[] { "/", $"/beds/{service.Invented.Straw}", "/notices", "/forecasts", "/feeds", $"/sites/{service.Invented.AlderLane}/season", "/cooperative", "/cooperative/webhooks", "/cooperative/audit", "/cooperative/delete" })
        {
            var page = await browser.OpenAsync(path);
            Assert.True(page.QuerySelector("script, img, [onerror]") is null, $"{path} holds an element of the name");
            Assert.Equal("FruitWatch", page.Title!.Split('·')[^1].Trim());
        }

        var charts = await browser.GetStringAsync($"/beds/{service.Invented.Straw}", TestContext.Current.CancellationToken);
        Assert.Contains("<svg", charts, StringComparison.Ordinal);
    }

    /// <summary>Half a character, and bytes that are no text.</summary>
    [Theory]
    [InlineData("""{"name":"\ud800"}""")]
    [InlineData("""{"name":"x\udc00y"}""")]
    [InlineData("{\"name\":\"\u0001\"}")]
    public async Task Half_a_character_is_refused_by_its_field(string body)
    {
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        var refused = await api.SendAsync("PUT", "/api/v1/cooperative", body);
        Assert.Equal(HttpStatusCode.BadRequest, refused.Status);
    }

    /// <summary>Source: RFC 5322 section 2.2: a header field ends with its line.</summary>
    [Theory]
    [InlineData("Maren\r\nBcc: evil@example.org")]
    [InlineData("Maren\nSubject: other")]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\u202Eneram")]
    [InlineData("=?utf-8?q?=0D=0ABcc:evil=40example.org?=")]
    public async Task No_name_makes_a_header_field_or_an_element_of_a_mail(string name)
    {
        await using var service = await TestService.StartAsync();
        long hook;
        await using (var store = service.Store())
        {
            // By the back door: the doors refuse them.
            await store.People.ExecuteUpdateAsync(set => set.SetProperty(row => row.Name, name), TestContext.Current.CancellationToken);
            await store.Cooperatives.ExecuteUpdateAsync(set => set.SetProperty(row => row.Name, name), TestContext.Current.CancellationToken);
            var row = new Webhook { CooperativeId = service.Invented.Cooperative, Name = name, Address = "https://example.org/", Events = "bed.made", SealedSecret = "", MadeAt = InventedCooperative.Now };
            store.Add(row);
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
            hook = row.Id;
        }

        await service.Services.GetRequiredService<WebhookStopping>().StopAsync(hook, WebhookStopping.Gone, default);
        await using var after = service.Store();
        var mail = await after.Outbox.SingleAsync(row => row.Key.StartsWith("webhook-stopped:"), TestContext.Current.CancellationToken);
        using var message = MailMessage.Of(mail, new MailOptions());
        using var written = new MemoryStream();
        await message.WriteToAsync(written, TestContext.Current.CancellationToken);
        written.Position = 0;
        var read = await MimeKit.MimeMessage.LoadAsync(written, TestContext.Current.CancellationToken);
        Assert.Empty(read.Bcc);
        Assert.Single(read.To);
        Assert.Single(read.Headers, header => header.Field == "Subject");
        Assert.DoesNotContain(read.Headers, header => header.Value.Contains('\u202E', StringComparison.Ordinal));
        var html = await new AngleSharp.Html.Parser.HtmlParser().ParseDocumentAsync(read.HtmlBody!, TestContext.Current.CancellationToken);
        Assert.Null(html.QuerySelector("script"));
    }

    [Fact]
    public async Task In_csv_no_cell_begins_a_formula_and_no_line_is_broken_by_one()
    {
        await using var service = await TestService.StartAsync();
        var names = Names.Select(row => row.Data.Item1).Where(name => name != "LONG").Append("+1").Append("-1").Append("@A1").Append("\t=1").ToList();
        await using (var store = service.Store())
        {
            foreach (var name in names)
                store.LogEntries.Add(new LogEntry { BedId = service.Invented.Straw, On = InventedCooperative.Today, Kind = "no-pins", Note = name.Replace("\0", "", StringComparison.Ordinal), RecordedAt = InventedCooperative.Now });
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        using var client = service.Client();
        using var zip = new ZipArchive(await client.GetStreamAsync("/api/v1/cooperative/export?format=csv", TestContext.Current.CancellationToken));
        foreach (var entry in zip.Entries)
        {
            using var text = new MemoryStream();
            await (await entry.OpenAsync(TestContext.Current.CancellationToken)).CopyToAsync(text, TestContext.Current.CancellationToken);
            using var csv = CsvHelper.CsvReader.Create(text.ToArray().AsMemory(3), new CsvHelper.CsvReaderOptions { HasHeader = false, AllowLineBreaksInQuotes = true, MalformedData = CsvHelper.CsvMalformedDataHandling.Throw });
            int? width = null;
            while (csv.Read())
            {
                width ??= csv.FieldCount;
                Assert.Equal(width, csv.FieldCount);
                for (var i = 0; i < csv.FieldCount; i++)
                {
                    var cell = csv.GetString(i);
                    Assert.True(cell.Length == 0 || cell[0] is not ('=' or '+' or '@' or '\t' or '\r') && (cell[0] != '-' || double.TryParse(cell, System.Globalization.CultureInfo.InvariantCulture, out _)), $"{entry.Name}: {cell}");
                }
            }
        }
    }

    /// <summary>Source: ASVS 5.0 16.4.1: what is logged cannot write lines of its own.</summary>
    [Fact]
    public async Task What_somebody_sends_makes_no_line_of_the_log()
    {
        var lines = new Lines();
        await using var service = await TestService.StartAsync(services => services.AddSingleton<ILoggerProvider>(lines));
        using var client = service.Client();
        const string harm = "x\r\nINJECTED: admin signed in";
        foreach (var path in new[] { $"/beds/{Uri.EscapeDataString(harm)}", $"/notices?state={Uri.EscapeDataString(harm)}", $"/cooperative/audit?subject={Uri.EscapeDataString(harm)}", $"/api/v1/notices?state={Uri.EscapeDataString(harm)}", $"/feeds/new?preset={Uri.EscapeDataString(harm)}" })
            await client.GetAsync(path, TestContext.Current.CancellationToken);
        using var api = new ApiClient(service);
        await api.SendAsync("PUT", "/api/v1/cooperative", JsonSerializer.Serialize(new { name = harm }));
        await api.SendAsync("POST", $"/api/v1/beds/{service.Invented.Straw}/log", JsonSerializer.Serialize(new { kind = "no-pins", on = "2026-10-13", note = harm }));
        await using (var store = service.Store())
        {
            await store.Cooperatives.ExecuteUpdateAsync(set => set.SetProperty(row => row.Name, harm), TestContext.Current.CancellationToken);
            await store.Outbox.ExecuteUpdateAsync(set => set.SetProperty(row => row.ToName, harm), TestContext.Current.CancellationToken);
        }

        await service.Services.GetRequiredService<MailSender>().SendDueAsync(default);
        Assert.NotEmpty(lines.Told);
        Assert.DoesNotContain(lines.Told, line => line.Contains("\nINJECTED", StringComparison.Ordinal));
    }

    private sealed class Lines : ILoggerProvider, ILogger
    {
        public ConcurrentQueue<string> Told { get; } = new();

        public ILogger CreateLogger(string categoryName) => this;

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(LogLevel logLevel) => logLevel >= LogLevel.Information;

        public void Log<TState>(LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            Told.Enqueue(formatter(state, exception));

        public void Dispose()
        {
        }
    }
}
