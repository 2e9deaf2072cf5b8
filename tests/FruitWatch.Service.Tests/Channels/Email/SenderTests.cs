using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Channels.Email.Signing;
using FruitWatch.Service.Operating;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>A fresh outbox for each test, and a sender with a clock that the test moves.</summary>
public abstract class SenderTests : IAsyncLifetime
{
    private readonly string folder = Directory.CreateTempSubdirectory("fruitwatch-mail-").FullName;
    private readonly EphemeralDataProtectionProvider protection = new();
    private StoreFactory stores = null!;

    private protected static Instant Morning { get; } = Instant.FromUtc(2026, 10, 5, 4, 30);

    private protected FakeClock Clock { get; } = new(Morning);

    private protected string MailFolder => Path.Combine(folder, "mail");

    public async ValueTask InitializeAsync()
    {
        stores = new StoreFactory(new StoreOptions { DataFolder = folder });
        await StoreMigration.PrepareAsync(stores, Clock, NullLogger.Instance);
    }

    public ValueTask DisposeAsync()
    {
        using (var store = stores.CreateDbContext())
            SqliteConnection.ClearPool((SqliteConnection)store.Database.GetDbConnection());
        Directory.Delete(folder, recursive: true);
        GC.SuppressFinalize(this);
        return ValueTask.CompletedTask;
    }

    private protected FruitWatchStore Open() => stores.CreateDbContext();

    private protected static MailOptions Relay(int port) => new()
    {
        Host = "127.0.0.1",
        Port = port,
        Security = "none",
        FromAddress = "beds@alder.invalid",
        FromName = "Alder Lane growers",
    };

    private protected MailSender Sender(MailOptions options, ILogger<MailSender>? log = null, TimeProvider? time = null)
    {
        var service = new ServiceOptions { DataFolder = folder };
        return new(
            stores,
            options,
            new MailSecrets(protection),
            Returns(options),
            DkimSigning.Read(options.Dkim),
            new SendingTurn(),
            new MailPace(options, time ?? TimeProvider.System),
            new BounceFiling(stores, service, Clock, NullLogger<BounceFiling>.Instance),
            service,
            Clock,
            log ?? NullLogger<MailSender>.Instance);
    }

    private protected ReturnPaths Returns(MailOptions options) => new(options, Key());

    private protected MailKey Key() => new(stores, protection);

    private protected string Seal(string key, string secret) => new MailSecrets(protection).Seal(key, secret);

    private protected Task<MailRun> SendAsync(int port) => Sender(Relay(port)).SendDueAsync(CancellationToken.None);

    private protected static OutgoingMail Mail(string name, Instant? notAfter = null) => new()
    {
        Key = $"digest:{name}:2026-10-05",
        ToName = name,
        ToAddress = $"{Plain(name).ToLowerInvariant()}@growers.invalid",
        Subject = $"Water Path bed today, {name}",
        TextBody = $"Good morning, {name}.\nWater: 25 litres",
        HtmlBody = $"<p>Good morning, {name}.</p>",
        MessageId = $"digest.{Plain(name)}.2026-10-05@alder.invalid",
        NextTryAt = Morning,
        NotAfter = notAfter ?? Morning + Duration.FromHours(6),
        CreatedAt = Morning,
    };

    private static string Plain(string name) => string.Concat(name.Where(char.IsAsciiLetterOrDigit));

    private protected async Task PutAsync(params OutgoingMail[] mails)
    {
        await using var store = Open();
        foreach (var mail in mails)
            Assert.True(await store.AddIfNewAsync(mail));
    }

    private protected async Task<OutgoingMail> RowAsync(string name)
    {
        await using var store = Open();
        return await store.Outbox.AsNoTracking().SingleAsync(mail => mail.ToName == name);
    }

    private protected async Task<MailState> StateAsync(string name) => (await RowAsync(name)).State;
}
