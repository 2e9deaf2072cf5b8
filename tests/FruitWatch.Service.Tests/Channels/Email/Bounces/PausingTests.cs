using System.Net;
using System.Text;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Tests.People;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

public sealed class PausingTests
{
    [Fact]
    public async Task Two_mails_that_failed_for_good_pause_the_address_and_the_coordinators_are_told_once()
    {
        await using var back = await ReturnedMail.StartAsync();
        await back.JoinAsync("Pilar", Role.Coordinator, "es");
        var waiting = await back.MailAsync(state: MailState.Pending);
        var doubtful = await back.MailAsync(state: MailState.Pending, error: "In doubt: IOException");
        var invitation = await back.MailAsync("invitation", MailState.Pending);

        Assert.Equal("filed", await back.ComesBackAsync("postfix-like"));
        Assert.Null((await back.PersonAsync()).MailPausedAt);
        Assert.Equal("filed", await back.ComesBackAsync("exchange-like"));

        var person = await back.PersonAsync();
        Assert.Equal(back.Clock.GetCurrentInstant(), person.MailPausedAt);
        Assert.StartsWith("5.1.10 smtp;550 5.1.10 RESOLVER", person.MailPausedWhy, StringComparison.Ordinal);
        await using var store = back.Service.Store();
        Assert.DoesNotContain(await store.PeopleToTell().ToListAsync(), told => told.Id == back.Ana);
        var states = await store.Outbox.AsNoTracking().ToDictionaryAsync(mail => mail.Id);
        Assert.Equal((MailState.Expired, PausedMails.Why), (states[waiting.Id].State, states[waiting.Id].LastError));
        Assert.Equal(MailState.Unconfirmed, states[doubtful.Id].State);
        Assert.Equal(MailState.Pending, states[invitation.Id].State);

        var notes = await back.NotesAsync();
        Assert.Equal(2, notes.Count);
        Assert.DoesNotContain(notes, note => note.PersonId == back.Ana);
        Assert.Equal(["Mail to Ana comes back", "El correo para Ana se devuelve"], notes.Select(note => note.Subject));
        Assert.All(notes, note => Assert.Contains("ana@growers.invalid", note.TextBody, StringComparison.Ordinal));
        Assert.All(notes, note => Assert.Contains($"/people/{back.Ana}", note.HtmlBody, StringComparison.Ordinal));
        Assert.Equal(
            [("mail", "person.changed")],
            (await store.Audit.Where(entry => entry.Via == "mail").ToListAsync()).Select(entry => (entry.Via, entry.Action)));

        await back.ComesBackAsync("postfix-like");
        Assert.Equal(2, (await back.NotesAsync()).Count);
        Assert.Equal(person.MailPausedAt, (await back.PersonAsync()).MailPausedAt);
    }

    [Fact]
    public async Task The_same_mail_reported_again_and_again_is_one()
    {
        await using var back = await ReturnedMail.StartAsync();
        var mail = await back.MailAsync();

        for (var i = 0; i < 3; i++)
            Assert.Equal("filed", await back.ComesBackAsync("postfix-like", mail));

        await using var store = back.Service.Store();
        Assert.Equal("5.1.1", (await store.Bounces.SingleAsync()).Status);
        Assert.Null((await back.PersonAsync()).MailPausedAt);
    }

    [Fact]
    public async Task Five_that_failed_for_now_within_a_week_pause_it_and_four_do_not()
    {
        await using var back = await ReturnedMail.StartAsync();
        await back.ComesBackAsync("mailbox-full");
        back.Clock.Advance(Duration.FromDays(7) + Duration.FromMinutes(1));
        for (var i = 0; i < 4; i++)
            await back.ComesBackAsync("mailbox-full");
        Assert.Null((await back.PersonAsync()).MailPausedAt);

        await back.ComesBackAsync("simple");

        Assert.NotNull((await back.PersonAsync()).MailPausedAt);
    }

    [Fact]
    public async Task Two_that_failed_for_good_more_than_thirty_days_apart_do_not_pause_it()
    {
        await using var back = await ReturnedMail.StartAsync();
        await back.ComesBackAsync("postfix-like");
        back.Clock.Advance(Duration.FromDays(30) + Duration.FromMinutes(1));

        await back.ComesBackAsync("postfix-like");

        Assert.Null((await back.PersonAsync()).MailPausedAt);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task After_it_is_tried_again_or_corrected_the_count_begins_anew(bool corrected)
    {
        await using var back = await ReturnedMail.StartAsync();
        var late = await back.MailAsync();
        await back.ComesBackAsync("postfix-like");
        await back.ComesBackAsync("postfix-like");
        back.Clock.Advance(Duration.FromDays(1));
        await ResumeAsync(back, corrected);
        back.Clock.Advance(Duration.FromMinutes(1));

        await back.ComesBackAsync("postfix-like", late); // of before
        await back.ComesBackAsync("postfix-like");
        Assert.Null((await back.PersonAsync()).MailPausedAt);
        await back.ComesBackAsync("postfix-like");

        Assert.NotNull((await back.PersonAsync()).MailPausedAt);
        Assert.Equal(2, (await back.NotesAsync()).Count);
    }

    [Theory]
    [InlineData("address.confirmed")]
    [InlineData("address.changed")]
    [InlineData("invitation.accepted")]
    [InlineData("somebody.elses")]
    public async Task After_its_holder_has_shown_that_mail_arrives_the_count_begins_anew(string action)
    {
        await using var back = await ReturnedMail.StartAsync();
        await back.ComesBackAsync("postfix-like");
        await back.ComesBackAsync("postfix-like");
        back.Clock.Advance(Duration.FromDays(1));
        await back.Service.ChangeAsync(back.Ana, MailPause.End);
        await using (var store = back.Service.Store())
        {
            var other = action == "somebody.elses";
            AuditTrail.Note(
                store, back.Clock.GetCurrentInstant(), other ? "address.confirmed" : action, "1", null, "session", back.Service.Invented.Cooperative, other ? back.Service.Coordinator.PersonId : back.Ana);
            await store.SaveChangesAsync();
        }

        back.Clock.Advance(Duration.FromMinutes(1));
        await back.ComesBackAsync("postfix-like");

        Assert.Equal(action == "somebody.elses", (await back.PersonAsync()).MailPausedAt is not null);
    }

    [Theory]
    [InlineData("encoded-no-report-type", "not the address")]
    [InlineData("delayed", "nothing failed")]
    [InlineData("relayed", "nothing failed")]
    [InlineData("vacation", "no report")]
    [InlineData("read-receipt", "no report")]
    public async Task What_is_no_failure_counts_for_nothing(string sample, string said)
    {
        await using var back = await ReturnedMail.StartAsync();

        Assert.Equal(said, await back.ComesBackAsync(sample));

        await using var store = back.Service.Store();
        Assert.Equal(0, await store.Bounces.CountAsync());
    }

    [Fact]
    public async Task A_report_that_somebody_made_up_pauses_nobody()
    {
        await using var back = await ReturnedMail.StartAsync();
        var mail = await back.MailAsync();
        var known = back.ReturnPathOf(mail);
        var letter = known.IndexOf('@', StringComparison.Ordinal) - 1;
        foreach (var address in new[] { "bounces@alder.invalid", $"bounces+{mail.Id}@alder.invalid", known[..letter] + (known[letter] == 'a' ? 'q' : 'a') + known[(letter + 1)..] })
        {
            using var answer = await back.HandOverAsync(ReportSamples.Bytes("postfix-like", address));
            Assert.Equal("no mail of ours\n", await answer.Content.ReadAsStringAsync());
        }

        await using var store = back.Service.Store();
        Assert.Equal(0, await store.Bounces.CountAsync());
    }

    [Fact]
    public async Task Who_does_not_show_the_secret_hands_nothing_over()
    {
        await using var back = await ReturnedMail.StartAsync();
        var report = ReportSamples.Bytes("postfix-like", back.ReturnPathOf(await back.MailAsync()));

        foreach (var secret in new[] { null, "", "a-secret-of-more-than-twentx", ReturnedMail.Secret + "x" })
        {
            using var answer = await back.HandOverAsync(report, secret);
            Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
            Assert.Equal("Bearer", answer.Headers.WwwAuthenticate.ToString());
        }

        using (var wrong = await back.HandOverAsync(report, type: "text/plain"))
            Assert.Equal(HttpStatusCode.UnsupportedMediaType, wrong.StatusCode);
        using (var large = await back.HandOverAsync(Encoding.ASCII.GetBytes("Subject: x\r\n\r\n" + new string('x', 1 << 20))))
            Assert.Equal(HttpStatusCode.RequestEntityTooLarge, large.StatusCode);
        using (var empty = await back.HandOverAsync([]))
            Assert.InRange((int)empty.StatusCode, 200, 400);
        await using var store = back.Service.Store();
        Assert.Equal(0, await store.Bounces.CountAsync());
    }

    [Fact]
    public async Task Where_it_is_not_set_there_is_no_such_address()
    {
        await using var service = await TestService.StartAsync();
        using var client = service.Client(null);
        using var answer = await client.PostAsync(BounceHook.Address, new StringContent("x"));

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task Where_the_only_coordinator_takes_no_mail_the_log_says_so()
    {
        await using var back = await ReturnedMail.StartAsync();
        await using (var store = back.Service.Store())
        {
            await store.People.Where(person => person.Role == Role.Coordinator).ExecuteDeleteAsync();
            await store.People.Where(person => person.Id == back.Ana).ExecuteUpdateAsync(set => set.SetProperty(row => row.Role, Role.Coordinator));
        }

        await back.ComesBackAsync("postfix-like");
        await back.ComesBackAsync("postfix-like");

        Assert.NotNull((await back.PersonAsync()).MailPausedAt);
        Assert.Empty(await back.NotesAsync());
    }

    private static async Task ResumeAsync(ReturnedMail back, bool corrected)
    {
        using var api = new ApiClient(back.Service);
        if (corrected)
        {
            await back.Service.ChangeAsync(back.Ana, person => person.EmailConfirmedAt = null); // else it is for Ana to correct
            var now = await api.GetAsync(PeopleApiTests.Path(back.Ana));
            Assert.Equal(HttpStatusCode.OK, (await PeopleApiTests.ChangeAsync(api, now, new { email = "ana.new@growers.invalid" })).Status);
        }
        else
        {
            Assert.Equal(HttpStatusCode.OK, (await api.SendAsync("POST", $"{PeopleApiTests.Path(back.Ana)}/resume-mail", "")).Status);
        }

        var person = await back.PersonAsync();
        Assert.Equal((null, null), (person.MailPausedAt, person.MailPausedWhy));
    }
}
