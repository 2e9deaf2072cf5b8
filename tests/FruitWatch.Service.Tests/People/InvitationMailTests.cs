using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.People;

/// <summary>The mail that invites, and that its secret is in it alone.</summary>
public sealed partial class InvitationMailTests
{
    [Fact]
    public async Task The_secret_is_in_the_mail_that_goes_out_and_nowhere_else()
    {
        var folder = "";
        await using var service = await TestService.StartAsync();
        folder = service.Services.GetRequiredService<FruitWatch.Service.Operating.ServiceOptions>().MailFolder;
        using var api = new ApiClient(service);
        var made = await PeopleApiTests.InviteAsync(api, "grower", "ana@growers.example", new { language = "es", name = "Ana <b>Ruiz" });
        Invitation invitation;
        await using (var store = service.Store())
        {
            invitation = await store.Invitations.SingleAsync();
            var mail = await store.Outbox.SingleAsync(row => row.Key.StartsWith("invitation:"));
            Assert.Equal((MailState.Pending, invitation.ExpiresAt, "ana@growers.example"), (mail.State, mail.NotAfter, mail.ToAddress));
            Assert.Equal("Te invitan a Alder Lane Growers", mail.Subject);
            Assert.DoesNotContain(Secret().Matches(mail.TextBody + mail.HtmlBody), found => Secrets.Hash(found.Groups[1].Value) == invitation.Hash);

            // Neither the coordinator nor a page or an operation shows what is sealed.
            using var browser = service.Browser();
            var page = WebUtility.HtmlDecode(await browser.GetStringAsync(Page(mail)));
            var frame = await browser.GetStringAsync(Page(mail) + "/html");
            Assert.Contains("/invitation/…", page, StringComparison.Ordinal);
            Assert.DoesNotContain("sealed:", page + frame, StringComparison.Ordinal);
        }

        await service.Services.GetRequiredService<MailSender>().SendDueAsync(TestContext.Current.CancellationToken);
        var sent = Directory.EnumerateFiles(folder, "*.eml").Select(file => MimeKit.MimeMessage.Load(file)).Single(message => message.To.Mailboxes.Single().Address == "ana@growers.example");
        foreach (var body in new[] { sent.TextBody, sent.HtmlBody })
            Assert.Equal(invitation.Hash, Secrets.Hash(Secret().Match(body!).Groups[1].Value));
        Assert.Contains("Hola, Ana <b>Ruiz.", sent.TextBody, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>Ruiz", sent.HtmlBody, StringComparison.Ordinal);
        Assert.Contains("21 de octubre", sent.TextBody, StringComparison.Ordinal);
        await using (var store = service.Store())
        {
            var mail = await store.Outbox.SingleAsync(row => row.Key.StartsWith("invitation:"));
            Assert.Equal(MailState.Sent, mail.State);
            Assert.DoesNotContain("sealed:", mail.TextBody + mail.HtmlBody, StringComparison.Ordinal);
        }

        // What the mail leads to opens, and what is recorded of it holds no secret.
        using var stranger = service.Browser(null);
        var opened = await stranger.GetAsync($"/invitation/{Secret().Match(sent.TextBody!).Groups[1].Value}");
        Assert.Equal(HttpStatusCode.OK, opened.StatusCode);
        Assert.Equal(PeopleApiTests.IdOf(made), invitation.PersonId);
    }

    [Fact]
    public async Task A_new_invitation_voids_the_one_before_and_one_taken_back_opens_no_more()
    {
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        var made = await PeopleApiTests.InviteAsync(api, "viewer");
        var path = PeopleApiTests.Path(PeopleApiTests.IdOf(made)) + "/invitation";
        Assert.Equal(HttpStatusCode.OK, (await api.SendAsync("POST", path, null)).Status);
        await using (var store = service.Store())
        {
            var rows = await store.Invitations.OrderBy(row => row.Id).ToListAsync();
            Assert.Equal([InventedCooperative.Now, InventedCooperative.Now + Duration.FromDays(7)], rows.Select(row => row.ExpiresAt));
            Assert.Equal([MailState.Expired, MailState.Pending], await store.Outbox.Where(row => row.Key.StartsWith("invitation:")).OrderBy(row => row.Id).Select(row => row.State).ToListAsync());
        }

        Assert.Equal(HttpStatusCode.NoContent, (await api.SendAsync("DELETE", path, null)).Status);
        Assert.Equal(System.Text.Json.JsonValueKind.Null, (await api.GetAsync(PeopleApiTests.Path(PeopleApiTests.IdOf(made)))).Json.GetProperty("invitedUntil").ValueKind);
        await using (var store = service.Store())
            Assert.False(await store.Outbox.AnyAsync(row => row.Key.StartsWith("invitation:") && row.State == MailState.Pending));
    }

    /// <summary>Nobody's mailbox is filled through us: 20 in an hour.</summary>
    [Fact]
    public async Task Only_so_many_are_invited_within_an_hour()
    {
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        for (var i = 0; i < 20; i++)
            Assert.Equal(HttpStatusCode.Created, (await PeopleApiTests.InviteAsync(api, "viewer")).Status);
        Assert.Equal(HttpStatusCode.TooManyRequests, (await PeopleApiTests.InviteAsync(api, "viewer")).Status);
        await using var store = service.Store();
        Assert.Equal(20, await store.Invitations.CountAsync());
    }

    [Fact]
    public async Task A_secret_sealed_for_one_mail_does_not_open_in_another()
    {
        await using var service = await TestService.StartAsync();
        var secrets = service.Services.GetRequiredService<MailSecrets>();
        var sealed1 = secrets.Seal("invitation:1", "open-sesame");
        Assert.Equal("a open-sesame b", secrets.Open(Mail("invitation:1", $"a {sealed1} b")).TextBody);
        // Put into the name of a bed it is text like any other.
        Assert.Equal($"a {sealed1} b", secrets.Open(Mail("digest:1:2026-10-14", $"a {sealed1} b")).TextBody);
        Assert.Throws<MailException>(() => secrets.Open(Mail("invitation:2", $"a {sealed1} b")));
    }

    private static OutgoingMail Mail(string key, string text) => new()
    {
        Key = key,
        ToName = "A",
        ToAddress = "a@example.org",
        Subject = "S",
        TextBody = text,
        HtmlBody = text,
        MessageId = "x@example.org",
    };

    private static string Page(OutgoingMail mail) => string.Create(CultureInfo.InvariantCulture, $"/mail/{mail.Id}");

    [GeneratedRegex("/invitation/([A-Za-z0-9_-]{20,})")]
    private static partial Regex Secret();
}
