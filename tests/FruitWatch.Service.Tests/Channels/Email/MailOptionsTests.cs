using FruitWatch.Service.Channels.Email;
using Microsoft.Extensions.Configuration;

namespace FruitWatch.Service.Tests.Channels.Email;

public sealed class MailOptionsTests
{
    [Fact]
    public void With_no_setting_at_all_mails_become_files() => Assert.False(Read().HasRelay);

    [Theory]
    [InlineData("none")]
    [InlineData("StartTLS")]
    [InlineData(" tls ")]
    public void Each_kind_of_security_can_be_asked_for(string security) =>
        Assert.True(Read(("Host", "relay.invalid"), ("Security", security)).HasRelay);

    [Theory]
    [InlineData("Security", "ssl", "Mail:Security is \"ssl\". Write none, starttls or tls.")]
    [InlineData("Port", "70000", "Mail:Port is 70000. Write 1 to 65535, or leave it out for the usual port.")]
    [InlineData("FromAddress", "growers", "Mail:FromAddress is \"growers\". Write one address, such as beds@example.org.")]
    [InlineData("FromAddress", "a@b.invalid, c@d.invalid", "Mail:FromAddress is \"a@b.invalid, c@d.invalid\". Write one address, such as beds@example.org.")]
    [InlineData("PerHour", "0", "Mail:PerHour is 0. Write how many mails may leave in an hour, at least 1.")]
    [InlineData("PerMinute", "-1", "Mail:PerMinute is -1. Write how many mails may leave in a minute, or 0 for no such limit.")]
    [InlineData("Lease", "00:00:00.5", "Mail:Lease is 00:00:00.5000000. Write how long a claim holds, such as 00:05:00.")]
    [InlineData("Dkim:Domain", "alder.invalid", "Mail:Dkim:Domain, Mail:Dkim:Selector and Mail:Dkim:KeyFile go together. Give all three, or none.")]
    [InlineData("Bounces:HookSecret", "x", "Mail:Bounces:Address is missing. Write where reports are to come to, such as bounces@example.org.")]
    [InlineData("Timeout", "00:00:00", "Mail:Timeout is 00:00:00. Write how long the relay may take, such as 00:00:20.")]
    [InlineData("UserName", "beds", "Mail:UserName and Mail:Password go together. Give both, or neither.")]
    public void A_setting_that_cannot_work_is_named_with_what_to_write(string setting, string value, string problem) =>
        Assert.Equal(problem, Assert.Throws<MailException>(() => Read(("Host", "relay.invalid"), (setting, value))).Message);

    [Fact]
    public void A_port_that_is_no_number_is_named() =>
        Assert.Contains("Mail:Port", Assert.Throws<MailException>(() => Read(("Host", "relay.invalid"), ("Port", "smtp"))).Message, StringComparison.Ordinal);

    [Fact]
    public void A_password_is_not_sent_across_a_network_in_the_clear()
    {
        (string, string)[] signIn = [("Security", "none"), ("UserName", "beds"), ("Password", "correct-horse")];

        var problem = Assert.Throws<MailException>(() => Read([("Host", "relay.invalid"), .. signIn])).Message;
        Assert.DoesNotContain("correct-horse", problem, StringComparison.Ordinal);
        Assert.True(Read([("Host", "127.0.0.1"), .. signIn]).HasRelay);
    }

    private static MailOptions Read(params (string Name, string Value)[] settings) => MailOptions.Read(
        new ConfigurationBuilder().AddInMemoryCollection(settings.Select(s => KeyValuePair.Create($"Mail:{s.Name}", (string?)s.Value))).Build());
}
