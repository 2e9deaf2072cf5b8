using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

public sealed class ReturnPathTests : SenderTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(256)]
    [InlineData(1234567)]
    [InlineData(long.MaxValue)]
    public void The_mail_is_known_by_it_in_whatever_case_and_never_by_another(long id)
    {
        var mail = Mail("Ana");
        mail.Id = id;
        var returns = Returns(Options());

        var address = returns.Of(mail).Address;

        Assert.Equal(address, address.ToLowerInvariant());
        Assert.InRange(address.IndexOf('@', StringComparison.Ordinal), 10, 64); // RFC 5321 section 4.5.3.1.1
        Assert.Equal(address, Returns(Options()).Of(mail).Address);
        Assert.Equal(id, returns.MailOf(address));
        Assert.Equal(id, returns.MailOf(address.ToUpperInvariant()));
        Assert.Null(returns.MailOf(address.Replace("alder", "elder", StringComparison.Ordinal)));
        Assert.Null(returns.MailOf("x" + address));
        var at = address.IndexOf('+', StringComparison.Ordinal);
        for (var i = at; i < address.IndexOf('@', StringComparison.Ordinal); i++)
        {
            var other = address[i] == 'b' ? 'c' : 'b';
            Assert.Null(returns.MailOf(address[..i] + other + address[(i + 1)..]));
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("bounces@alder.invalid")]
    [InlineData("bounces+@alder.invalid")]
    [InlineData("bounces+aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa@alder.invalid")]
    [InlineData("+@")]
    public void Anything_else_is_no_mail_of_ours(string address) => Assert.Null(Returns(Options()).MailOf(address));

    [Fact]
    public async Task Each_mail_leaves_with_its_own_and_the_letter_shows_none_of_it()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"), Mail("Ben"));
        var options = Options(server.Port);

        await Sender(options).SendDueAsync(CancellationToken.None);

        Assert.Equal(
            [(await RowAsync("Ana")).Id, (await RowAsync("Ben")).Id],
            server.Senders.Select(sender => Returns(options).MailOf(sender)!.Value));
        Assert.All(server.Taken, message => Assert.DoesNotContain("bounces", message.ToString(), StringComparison.Ordinal));
    }

    [Fact]
    public async Task Without_the_setting_reports_go_to_the_From_address()
    {
        await using var server = await MailboxServer.StartAsync();
        await PutAsync(Mail("Ana"));

        await SendAsync(server.Port);

        Assert.Equal("beds@alder.invalid", Assert.Single(server.Senders));
    }

    [Theory]
    [InlineData("bounces")]
    [InlineData("a, b@alder.invalid")]
    [InlineData("a-name-that-is-longer-than-24@alder.invalid")]
    [InlineData("boun+ces@alder.invalid")]
    public void An_address_that_leaves_no_room_is_named(string address) =>
        Assert.Contains("Mail:Bounces:Address", Assert.Throws<MailException>(new BounceOptions { Address = address }.Check).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("", "Host", "Mail:Bounces:Address is missing")]
    [InlineData("bounces@alder.invalid", "Host", "Mail:Bounces:UserName and Mail:Bounces:Password")]
    [InlineData("bounces@alder.invalid", "HookSecret", "Mail:Bounces:HookSecret is shorter than 20 letters")]
    public void Settings_that_cannot_work_are_named(string address, string setting, string problem)
    {
        var options = new BounceOptions { Address = address };
        typeof(BounceOptions).GetProperty(setting)!.SetValue(options, "x.invalid");

        Assert.StartsWith(problem, Assert.Throws<MailException>(options.Check).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_password_does_not_cross_a_network_in_the_clear() => Assert.Contains(
        "in the clear",
        Assert.Throws<MailException>(new BounceOptions { Address = "b@alder.invalid", Host = "mail.invalid", Security = "none", UserName = "b", Password = "correct-horse" }.Check).Message,
        StringComparison.Ordinal);

    private static MailOptions Options(int port = 25)
    {
        var options = Relay(port);
        options.Bounces = new BounceOptions { Address = "bounces@alder.invalid" };
        return options;
    }
}
