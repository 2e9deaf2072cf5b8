using System.Globalization;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Channels.Email.Bounces;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>What keeps mails from leaving or reports from being read stands on the page of mails until it is mended.</summary>
public sealed class TroubleTests
{
    [Fact]
    public async Task A_mailbox_that_cannot_be_read_is_shown_since_when_and_its_words_to_the_operator_only()
    {
        var port = MailboxServer.FreePort();
        await using var back = await ReturnedMail.StartAsync(port);
        var operating = await Member.JoinAsync(back.Service.Services, back.Service.Invented.Cooperative, Role.Viewer, "Operator Too", operating: true);
        var viewer = await Member.JoinAsync(back.Service.Services, back.Service.Invented.Cooperative, Role.Viewer, "Only Viewer");
        Assert.Null(await ShownAsync(back));
        var round = back.Service.Services.GetRequiredService<BounceRound>();

        await round.RunAsync(CancellationToken.None);
        var first = await ShownAsync(back);
        back.Clock.Advance(Duration.FromDays(1));
        await round.RunAsync(CancellationToken.None);

        Assert.Contains("The mailbox of what comes back has not been readable since", first, StringComparison.Ordinal);
        Assert.Equal(first, await ShownAsync(back));
        Assert.DoesNotContain("SocketException", first, StringComparison.Ordinal);
        Assert.Contains("SocketException", await ShownAsync(back, operating), StringComparison.Ordinal);
        Assert.Null(await ShownAsync(back, viewer));

        await using var mailbox = new ScriptedPop3(port: port);
        await round.RunAsync(CancellationToken.None);
        Assert.Null(await ShownAsync(back));
    }

    [Fact]
    public async Task A_relay_that_cannot_be_reached_and_an_hour_that_is_full_are_shown()
    {
        var port = MailboxServer.FreePort();
        await using var back = await ReturnedMail.StartAsync(0, "pop3",
            ("Mail:Host", "127.0.0.1"), ("Mail:Port", port.ToString(CultureInfo.InvariantCulture)), ("Mail:Security", "none"), ("Mail:PerHour", "2"));
        for (var i = 0; i < 3; i++)
            await back.MailAsync(state: MailState.Pending);
        var sender = back.Service.Services.GetRequiredService<MailSender>();

        await sender.SendDueAsync(CancellationToken.None);
        Assert.Contains("Mails have not left since", await ShownAsync(back), StringComparison.Ordinal);

        await using var relay = await MailboxServer.StartAsync(port);
        await sender.SendDueAsync(CancellationToken.None);
        var shown = await ShownAsync(back);
        Assert.DoesNotContain("Mails have not left since", shown, StringComparison.Ordinal);
        Assert.Contains("as many left within an hour", shown, StringComparison.Ordinal);

        back.Clock.Advance(Duration.FromMinutes(61));
        await sender.SendDueAsync(CancellationToken.None);
        back.Clock.Advance(Duration.FromMinutes(61));
        await sender.SendDueAsync(CancellationToken.None);
        Assert.Null(await ShownAsync(back));
    }

    private static async Task<string?> ShownAsync(ReturnedMail back, Member? member = null)
    {
        using var browser = back.Service.Browser(member ?? back.Service.Coordinator);
        return (await browser.OpenAsync("/mail")).QuerySelector("section[aria-labelledby=trouble]")?.Read();
    }
}
