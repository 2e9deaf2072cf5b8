using System.Security.Cryptography;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Channels.Email.Signing;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Channels.Email;

namespace FruitWatch.Service.Tests.Operating;

public sealed class MailVerbTests
{
    [Fact]
    public async Task It_tells_the_settings_the_records_and_what_the_relay_says_and_sends_one()
    {
        await using var relay = await MailboxServer.StartAsync();
        using var key = RSA.Create(2048);
        var file = Path.GetTempFileName();
        await File.WriteAllTextAsync(file, key.ExportPkcs8PrivateKeyPem());
        var options = Relay(relay.Port);
        options.Dkim = new DkimOptions { Domain = "alder.invalid", Selector = "fruit2026", KeyFile = file };
        options.Bounces = new BounceOptions { Address = "bounces@back.alder.invalid", HookSecret = "a-secret-of-more-than-twenty" };

        var told = await CheckAsync(options, "maren@growers.invalid");

        Assert.Contains($"127.0.0.1, port {relay.Port}, none", told, StringComparison.Ordinal);
        Assert.Contains("alder.invalid. TXT \"v=spf1 a:beds.alder.invalid ~all\"", told, StringComparison.Ordinal);
        Assert.Contains("back.alder.invalid. TXT \"v=spf1 a:beds.alder.invalid ~all\"", told, StringComparison.Ordinal);
        Assert.Contains("_dmarc.alder.invalid. TXT \"v=DMARC1; p=none; rua=mailto:postmaster@alder.invalid\"", told, StringComparison.Ordinal);
        var record = told.Split('\n').Single(line => line.Contains("fruit2026._domainkey.alder.invalid. TXT", StringComparison.Ordinal));
        var strings = record[record.IndexOf('"', StringComparison.Ordinal)..].Trim().Trim('"').Split("\" \"");
        Assert.All(strings, part => Assert.InRange(part.Length, 1, 255)); // RFC 1035 section 3.3.14
        Assert.Equal($"v=DKIM1; k=rsa; p={Convert.ToBase64String(key.ExportSubjectPublicKeyInfo())}", string.Concat(strings));
        Assert.Contains("without encryption", told, StringComparison.Ordinal);
        Assert.Contains("unsubscribing  by link, and by a mail to bounces+…", told, StringComparison.Ordinal);
        Assert.Contains("EHLO", told, StringComparison.Ordinal);
        Assert.Contains("sent            to maren@growers.invalid", told, StringComparison.Ordinal);
        Assert.DoesNotContain("a-secret-of-more-than-twenty", told, StringComparison.Ordinal);
        Assert.DoesNotContain(file, told, StringComparison.Ordinal);
        var message = Assert.Single(relay.Taken);
        Assert.NotNull(message.Headers["DKIM-Signature"]);
        // Of the mailbox of bounces the operator would hear nothing.
        Assert.Equal("beds@alder.invalid", Assert.Single(relay.Senders));
    }

    [Fact]
    public async Task Without_somebody_to_send_to_nothing_is_sent()
    {
        await using var relay = await MailboxServer.StartAsync();

        await CheckAsync(Relay(relay.Port), null);

        Assert.Empty(relay.Taken);
        Assert.Equal(1, relay.Connections);
    }

    [Fact]
    public async Task A_step_that_fails_is_named_and_the_password_is_not_told()
    {
        await using var relay = await MailboxServer.StartAsync();
        var options = Relay(relay.Port);
        (options.UserName, options.Password) = ("beds", "correct-horse");
        var output = new StringWriter();

        var failed = await Assert.ThrowsAsync<VerbException>(() => CheckAsync(options, null, output));

        Assert.StartsWith("Failed while signing in: ", failed.Message, StringComparison.Ordinal);
        Assert.Contains("connected", output.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("correct-horse", output + failed.Message, StringComparison.Ordinal);
        options.Security = "starttls";
        Assert.StartsWith("Failed while connecting: ", (await Assert.ThrowsAsync<VerbException>(() => CheckAsync(options, null))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_relay_it_says_where_mails_go()
    {
        Assert.Contains("none: mails are written to ", await CheckAsync(new MailOptions(), null), StringComparison.Ordinal);
        await Assert.ThrowsAsync<VerbException>(() => CheckAsync(new MailOptions(), "a@b.invalid, c@d.invalid"));
    }

    private static MailOptions Relay(int port) => new()
    {
        Host = "127.0.0.1",
        Port = port,
        Security = "none",
        FromAddress = "beds@alder.invalid",
        FromName = "Alder Lane growers",
    };

    private static async Task<string> CheckAsync(MailOptions options, string? to, StringWriter? output = null)
    {
        output ??= new StringWriter();
        await MailVerb.CheckAsync(options, DkimSigning.Read(options.Dkim), new ServiceOptions { BaseUrl = new Uri("https://beds.alder.invalid") }, to, TimeProvider.System, output, CancellationToken.None);
        return output.ToString();
    }
}
