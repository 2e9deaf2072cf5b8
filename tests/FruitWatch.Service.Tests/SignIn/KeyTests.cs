using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Wishes;
using FruitWatch.Store;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>The service's own keys: taken over from the folder of earlier versions, and encrypted where there is a certificate.</summary>
public sealed class KeyTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("fruitwatch-keys-").FullName;

    [Fact]
    public async Task What_was_sealed_with_keys_in_the_folder_opens_with_those_in_the_store()
    {
        var keys = Directory.CreateDirectory(Path.Combine(folder, "keys"));
        var before = new ServiceCollection();
        before.AddDataProtection().SetApplicationName("FruitWatch").PersistKeysToFileSystem(keys);
        string sealedKey;
        await using (var earlier = before.BuildServiceProvider())
            sealedKey = new FeedKeys(earlier.GetRequiredService<IDataProtectionProvider>()).Seal("provider-key-17");
        await File.WriteAllTextAsync(Path.Combine(keys.FullName, "key-torn.xml"), "<key");

        await using var services = await ServicesAsync();
        var stores = services.GetRequiredService<StoreFactory>();
        await using (var store = stores.CreateDbContext())
            Assert.Equal(1, await KeyImport.RunAsync(store, keys.FullName, NullLogger.Instance));
        await using (var store = stores.CreateDbContext())
            Assert.Equal(0, await KeyImport.RunAsync(store, keys.FullName, NullLogger.Instance));
        Assert.Equal("provider-key-17", services.GetRequiredService<FeedKeys>().Open(sealedKey));
    }

    [Fact]
    public async Task A_certificate_encrypts_them_in_the_store_and_another_process_opens_them_with_it()
    {
        var file = Path.Combine(folder, "keys.pfx");
        using (var rsa = RSA.Create(2048))
        {
            var request = new CertificateRequest("CN=FruitWatch keys", rsa, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
            var start = new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
            using var certificate = request.CreateSelfSigned(start, start.AddYears(10));
            await File.WriteAllBytesAsync(file, certificate.ExportPkcs12(Pkcs12ExportPbeParameters.Pbes2Aes256Sha256, "pass"));
        }

        string sealedKey;
        await using (var services = await ServicesAsync(("FruitWatch:KeyCertificate", file), ("FruitWatch:KeyCertificatePassword", "pass")))
        {
            sealedKey = services.GetRequiredService<FeedKeys>().Seal("provider-key-17");
            await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
            var xml = Assert.Single(await store.DataProtectionKeys.Select(row => row.Xml).ToListAsync());
            Assert.Contains("EncryptedData", xml, StringComparison.Ordinal);
            Assert.DoesNotContain("<masterKey", xml, StringComparison.Ordinal);
        }

        await using (var services = await ServicesAsync(("FruitWatch:KeyCertificate", file), ("FruitWatch:KeyCertificatePassword", "pass")))
            Assert.Equal("provider-key-17", services.GetRequiredService<FeedKeys>().Open(sealedKey));
        await using (var services = await ServicesAsync())
            Assert.Null(services.GetRequiredService<FeedKeys>().Open(sealedKey));
    }

    /// <summary>A server that was started once with another certificate ended every unsubscribe link that was ever sent.</summary>
    [Fact]
    public async Task The_key_of_links_in_mails_is_kept_when_it_cannot_be_read_and_the_start_says_what_to_do()
    {
        var file = Path.Combine(folder, "keys.pfx");
        using (var rsa = RSA.Create(2048))
        {
            var request = new CertificateRequest("CN=FruitWatch keys", rsa, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
            var start = new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
            using var certificate = request.CreateSelfSigned(start, start.AddYears(10));
            await File.WriteAllBytesAsync(file, certificate.ExportPkcs12(Pkcs12ExportPbeParameters.Pbes2Aes256Sha256, "pass"));
        }

        (string, string)[] right = [("FruitWatch:KeyCertificate", file), ("FruitWatch:KeyCertificatePassword", "pass")];
        string link;
        await using (var services = await ServicesAsync(right))
        {
            link = new Uri(services.GetRequiredService<StopLinks>().AddressOf(new StopLink(7, StopTopic.Digest))).AbsolutePath[StopLinks.Path.Length..];
            Assert.False(services.GetRequiredService<MailKey>().Replace()); // it can be read
        }

        await using (var services = await ServicesAsync())
        {
            Assert.Contains("FruitWatch:KeyCertificate", Assert.Throws<VerbException>(services.GetRequiredService<MailKey>().Check).Message, StringComparison.Ordinal);
            Assert.Throws<VerbException>(() => services.GetRequiredService<StopLinks>().AddressOf(new StopLink(7, StopTopic.Digest)));
        }

        await using (var services = await ServicesAsync(right))
        {
            services.GetRequiredService<MailKey>().Check();
            Assert.Equal(new StopLink(7, StopTopic.Digest), services.GetRequiredService<StopLinks>().Read(link));
        }

        await using (var services = await ServicesAsync())
        {
            var told = new StringWriter();
            await MailVerb.NewKeyAsync(services.GetRequiredService<MailKey>(), told);
            Assert.Contains("Another key was drawn", told.ToString(), StringComparison.Ordinal);
            Assert.Null(services.GetRequiredService<StopLinks>().Read(link));
        }
    }

    [Fact]
    public async Task A_certificate_that_cannot_be_read_stops_the_start_and_says_so()
    {
        var refused = await Assert.ThrowsAsync<VerbException>(() => ServicesAsync(("FruitWatch:KeyCertificate", Path.Combine(folder, "none.pfx"))));
        Assert.Contains("FruitWatch:KeyCertificate", refused.Message, StringComparison.Ordinal);
    }

    /// <summary>13.3.1: secrets do not lie readable where others may read.</summary>
    [Fact]
    public void Keys_on_a_server_without_a_certificate_are_warned_of()
    {
        var told = new Warnings();
        KeyCertificate.Warn(new ServiceOptions(), onServer: false, told);
        Assert.Empty(told.Lines);
        KeyCertificate.Warn(new ServiceOptions(), onServer: true, told);
        Assert.Contains("KeyCertificate", Assert.Single(told.Lines), StringComparison.Ordinal);
    }

    public void Dispose()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    private async Task<ServiceProvider> ServicesAsync(params (string Key, string Value)[] settings)
    {
        var configuration = new ConfigurationBuilder().AddInMemoryCollection(
            settings.Append(("FruitWatch:DataFolder", folder)).Append(("FruitWatch:RunJobs", "false")).Select(one => new KeyValuePair<string, string?>(one.Item1, one.Item2))).Build();
        var services = new ServiceCollection();
        ServiceHost.AddServices(services, configuration);
        var built = services.BuildServiceProvider();
        await StoreMigration.PrepareAsync(built.GetRequiredService<StoreFactory>(), built.GetRequiredService<NodaTime.IClock>(), NullLogger.Instance);
        return built;
    }

    private sealed class Warnings : Microsoft.Extensions.Logging.ILogger
    {
        public List<string> Lines { get; } = [];

        public IDisposable? BeginScope<TState>(TState state)
            where TState : notnull => null;

        public bool IsEnabled(Microsoft.Extensions.Logging.LogLevel logLevel) => true;

        public void Log<TState>(
            Microsoft.Extensions.Logging.LogLevel logLevel, Microsoft.Extensions.Logging.EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
            Lines.Add(formatter(state, exception));
    }
}
