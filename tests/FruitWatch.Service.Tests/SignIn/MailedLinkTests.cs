using System.Net;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>Links in mails: they show, and only a button acts; good for a while, and once (ASVS 5.0 3.5.3, 6.4.x, 6.5.1).</summary>
public sealed class MailedLinkTests
{
    private const string New = "harvest gravel pony umbrella";

    [Fact]
    public async Task A_new_password_is_set_by_the_button_only_and_once()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var old = new Visit(service);
        await old.SignedInAsync();
        using var visit = new Visit(service);
        using (await visit.SubmitAsync("/sign-in/forgotten", "form.card", ("email", "  Ines.Alder@Example.org ")))
        {
        }

        var (mail, link) = await service.MailAsync(Doors.Email, "Set a new password");
        Assert.Null(mail.CooperativeId); // no coordinator reads it
        Assert.Contains(link.Replace("&", "&amp;", StringComparison.Ordinal), mail.HtmlBody, StringComparison.Ordinal);
        for (var i = 0; i < 20; i++)
        {
            using var looked = await visit.Browser.GetAsync(link);
            Assert.Equal(HttpStatusCode.OK, looked.StatusCode);
            Assert.Equal("no-referrer", Assert.Single(looked.Headers.GetValues("Referrer-Policy"))); // 14.2.1
            Assert.True(looked.Headers.CacheControl!.NoStore);
        }

        Assert.True(await old.IsInAsync());
        using (var weak = await visit.SubmitAsync(link, "form.card", ("password", "password1234")))
            Assert.Equal(HttpStatusCode.UnprocessableEntity, weak.StatusCode);
        var form = (await visit.Browser.OpenAsync(link)).QuerySelector("form.card")!;
        using (var set = await visit.Browser.SubmitAsync(form, ("password", New)))
            Assert.Equal("/sign-in?done=reset", set.Headers.Location!.OriginalString);
        Assert.False(await old.IsInAsync());
        await service.MailAsync(Doors.Email, "Your password was changed");
        using (var twice = await visit.Browser.SubmitAsync(form, ("password", "another gravel pony umbrella")))
            Assert.Equal(HttpStatusCode.Gone, twice.StatusCode);
        using (var again = await visit.Browser.GetAsync(link))
            Assert.Equal("This link is of no use any longer", (await HtmlPage.ReadAsync(again)).QuerySelector("h1")!.TextContent);
        await visit.SignedInAsync(password: New);
        Assert.Superset(new HashSet<string> { "password.reset-asked", "password.reset" }, (await service.AuditAsync()).ToHashSet());
    }

    /// <summary>6.3.8: known or not, confirmed or not, the answer is one; and it is given before anything is looked up.</summary>
    [Fact]
    public async Task Whether_an_address_is_known_does_not_show()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        await service.MemberAsync(email: "unconfirmed@example.org", confirmed: false);
        var answers = new List<string>();
        foreach (var email in new[] { "nobody@example.org", "unconfirmed@example.org", Doors.Email })
        {
            using var visit = new Visit(service);
            using var answer = await visit.SubmitAsync("/sign-in/forgotten", "form.card", ("email", email));
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            answers.Add((await HtmlPage.ReadAsync(answer)).QuerySelector("main")!.OuterHtml.Replace(email, "", StringComparison.Ordinal));
        }

        Assert.Single(answers.Distinct());
        // They are worked off in turn: the last one's mail is there, so the others' never will be.
        await service.MailAsync(Doors.Email, "Set a new password");
        await using var store = service.Store();
        Assert.Equal([Doors.Email], await store.Outbox.Where(mail => mail.Key.StartsWith("account:")).Select(mail => mail.ToAddress).ToListAsync());
    }

    [Fact]
    public async Task Nobody_can_have_somebodys_mailbox_filled()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        await service.MemberAsync(email: "last@example.org");
        using var visit = new Visit(service);
        var form = (await visit.Browser.OpenAsync("/sign-in/forgotten")).QuerySelector("form.card")!;
        foreach (var email in Enumerable.Repeat(Doors.Email, 10).Append("last@example.org"))
        {
            using var answer = await visit.Browser.SubmitAsync(form, ("email", email));
        }

        await service.MailAsync("last@example.org", "Set a new password");
        await using var store = service.Store();
        Assert.Equal(AccountMails.LinksAnHour, await store.Outbox.CountAsync(mail => mail.ToAddress == Doors.Email && mail.Key.StartsWith("account:")));
    }

    [Fact]
    public async Task A_link_that_has_run_out_or_was_altered_or_is_anothers_opens_nothing()
    {
        await using var service = await Doors.OpenAsync(services => services.Configure<ResetTokenOptions>(reset => reset.TokenLifespan = TimeSpan.FromSeconds(-1)));
        var (account, _) = await service.MemberAsync();
        var (other, _) = await service.MemberAsync(email: "other@example.org");
        using var visit = new Visit(service);
        using (await visit.SubmitAsync("/sign-in/forgotten", "form.card", ("email", Doors.Email)))
        {
        }

        var (_, link) = await service.MailAsync(Doors.Email, "Set a new password");
        foreach (var path in new[] { link, link[..^3] + "AAA", link.Replace($"account={account.Id}", $"account={other.Id}", StringComparison.Ordinal), "/sign-in/reset", "/sign-in/reset?account=x&token=y" })
        {
            using var answer = await visit.Browser.GetAsync(path);
            Assert.Equal(HttpStatusCode.Gone, answer.StatusCode);
            Assert.Null((await HtmlPage.ReadAsync(answer)).QuerySelector("#password"));
        }
    }

    /// <summary>A new address counts when its holder has said so; the old one is told; mails of the cooperative follow.</summary>
    [Fact]
    public async Task An_address_is_changed_from_the_new_mailbox_and_told_to_the_old_one()
    {
        await using var service = await Doors.OpenAsync();
        var (account, person) = await service.MemberAsync();
        await service.MemberAsync(email: "taken@example.org");
        using var visit = new Visit(service);
        await visit.SignedInAsync();
        using (var taken = await visit.SubmitAsync("/account/security", "form[action*=address]", ("email", "taken@example.org"), ("present", Doors.Password)))
            Assert.Equal("/account/security?done=address", taken.Headers.Location!.OriginalString);
        using (var asked = await visit.SubmitAsync("/account/security", "form[action*=address]", ("email", "new@example.org"), ("present", Doors.Password)))
            Assert.Equal("/account/security?done=address", asked.Headers.Location!.OriginalString);
        var (_, link) = await service.MailAsync("new@example.org", "Confirm your new address");
        using (await visit.Browser.GetAsync(link))
        await using (var store = service.Store())
        {
            Assert.Equal(Doors.Email, (await store.Accounts.SingleAsync(row => row.Id == account.Id)).Email);
            Assert.Empty(await store.Outbox.Where(mail => mail.ToAddress == "taken@example.org").ToListAsync());
        }

        await using (var store = service.Store())
        {
            store.Outbox.Add(new OutgoingMail
            {
                Key = $"digest:{person.Id}:2026-10-14",
                CooperativeId = person.CooperativeId,
                PersonId = person.Id,
                ToName = "Waits",
                ToAddress = Doors.Email,
                Subject = "S",
                TextBody = "T",
                HtmlBody = "H",
                MessageId = "waits@alder.invalid",
                NotAfter = InventedCooperative.Now + NodaTime.Duration.FromDays(1),
            });
            await store.SaveChangesAsync();
        }

        using (var done = await visit.SubmitAsync(link, "form.card"))
            Assert.Equal(HttpStatusCode.OK, done.StatusCode);
        await service.MailAsync(Doors.Email, "Your address was changed");
        await using (var store = service.Store())
        {
            Assert.Equal(MailState.Expired, (await store.Outbox.SingleAsync(row => row.ToName == "Waits")).State);
            Assert.Equal("new@example.org", (await store.Accounts.SingleAsync(row => row.Id == account.Id)).UserName);
            Assert.Equal("new@example.org", (await store.People.SingleAsync(row => row.Id == person.Id)).Email);
        }

        Assert.True(await visit.IsInAsync());
        using var again = new Visit(service);
        await again.SignedInAsync("new@example.org");
        using (var twice = await again.Browser.GetAsync(link))
            Assert.Equal(HttpStatusCode.Gone, twice.StatusCode);
    }

    [Fact]
    public async Task An_address_is_confirmed_by_the_button_only()
    {
        await using var service = await Doors.OpenAsync();
        var (account, person) = await service.MemberAsync(confirmed: false);
        using var visit = new Visit(service);
        await visit.SignedInAsync();
        using (await visit.SubmitAsync("/account/security", "form[action*=confirm]"))
        {
        }

        var (_, link) = await service.MailAsync(Doors.Email, "Confirm your address");
        using (await visit.Browser.GetAsync(link))
        await using (var store = service.Store())
            Assert.False((await store.Accounts.SingleAsync(row => row.Id == account.Id)).EmailConfirmed);
        using (var done = await visit.SubmitAsync(link, "form.card"))
            Assert.Equal(HttpStatusCode.OK, done.StatusCode);
        await using (var store = service.Store())
        {
            Assert.True((await store.Accounts.SingleAsync(row => row.Id == account.Id)).EmailConfirmed);
            Assert.NotNull((await store.People.SingleAsync(row => row.Id == person.Id)).EmailConfirmedAt);
        }
    }

    [Fact]
    public async Task Mails_speak_the_holders_language_whatever_the_page_spoke()
    {
        await using var service = await Doors.OpenAsync();
        var (_, person) = await service.MemberAsync();
        await using (var store = service.Store())
            await store.People.Where(row => row.Id == person.Id).ExecuteUpdateAsync(set => set.SetProperty(row => row.Language, "es"));
        using var visit = new Visit(service);
        using (await visit.SubmitAsync("/sign-in/forgotten", "form.card", ("email", Doors.Email)))
        {
        }

        var (mail, _) = await service.MailAsync(Doors.Email, "Pon una contraseña nueva");
        Assert.Contains("lang=\"es\"", mail.HtmlBody, StringComparison.Ordinal);
        Assert.Equal(MailState.Pending, mail.State);
    }
}
