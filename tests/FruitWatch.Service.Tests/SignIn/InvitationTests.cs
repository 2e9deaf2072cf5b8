using System.Net;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.SignIn;

public sealed class InvitationTests
{
    private const string Guest = Doors.Guest;

    [Fact]
    public async Task Somebody_new_sets_a_password_and_is_in_and_the_link_opens_once()
    {
        await using var service = await Doors.OpenAsync();
        var (path, person) = await service.InviteAsync();
        using var visit = new Visit(service);
        for (var i = 0; i < 3; i++)
        {
            using var looked = await visit.Browser.GetAsync(path);
            Assert.Equal("no-referrer", Assert.Single(looked.Headers.GetValues("Referrer-Policy")));
            Assert.Contains("Grower", (await HtmlPage.ReadAsync(looked)).QuerySelector("main")!.Read(), StringComparison.Ordinal);
        }

        Assert.False(await visit.IsInAsync());
        using (var weak = await visit.SubmitAsync(path, "form.card", ("password", "guest@example.org")))
            Assert.Contains("your name", (await HtmlPage.ReadAsync(weak)).QuerySelector("#password-error")!.TextContent, StringComparison.Ordinal);
        using (var joined = await visit.SubmitAsync(path, "form.card", ("password", Doors.Password)))
            Assert.Equal("/", joined.Headers.Location!.OriginalString);
        Assert.True(await visit.IsInAsync());
        await using (var store = service.Store())
        {
            var row = await store.People.SingleAsync(one => one.Id == person);
            Assert.True(row.Active);
            Assert.NotNull(row.EmailConfirmedAt);
            Assert.True((await store.Accounts.SingleAsync(account => account.Id == row.AccountId)).EmailConfirmed);
        }

        using var other = new Visit(service);
        using (var used = await other.Browser.GetAsync(path))
        {
            Assert.Equal(HttpStatusCode.Gone, used.StatusCode);
            Assert.Contains("Ask your coordinator", (await HtmlPage.ReadAsync(used)).Body!.Read(), StringComparison.Ordinal);
        }

        Assert.Contains("invitation.accepted", await service.AuditAsync());
        await other.SignedInAsync(Guest);
    }

    [Fact]
    public async Task Unknown_and_expired_ones_get_the_same_clear_page()
    {
        await using var service = await Doors.OpenAsync();
        var (path, _) = await service.InviteAsync();
        service.Clock().Advance(Duration.FromDays(8));
        using var visit = new Visit(service);
        var answers = new List<string>();
        foreach (var one in new[] { path, "/invitation/nothing" })
        {
            using var answer = await visit.Browser.GetAsync(one);
            Assert.Equal(HttpStatusCode.Gone, answer.StatusCode);
            answers.Add((await HtmlPage.ReadAsync(answer)).QuerySelector("main")!.OuterHtml);
        }

        Assert.Single(answers.Distinct());
    }

    [Fact]
    public async Task Whoever_has_an_account_signs_in_and_joins_with_it()
    {
        await using var service = await Doors.OpenAsync();
        long other;
        await using (var store = service.Store())
        {
            var row = new Cooperative { Name = "Birch Row" };
            store.Cooperatives.Add(row);
            await store.SaveChangesAsync();
            other = row.Id;
        }

        var (account, _) = await service.MemberAsync();
        var (path, person) = await service.InviteAsync(Doors.Email, other);
        using var visit = new Visit(service);
        var page = await visit.Browser.OpenAsync(path);
        Assert.Null(page.QuerySelector("#password"));
        var link = page.QuerySelector("form.card a")!.GetAttribute("href")!;
        using (var done = await visit.SignInAsync(Doors.Email, Doors.Password, link))
            Assert.Equal(path, done.Headers.Location!.OriginalString);
        using (var joined = await visit.SubmitAsync(path, "form.card"))
            Assert.Equal("/", joined.Headers.Location!.OriginalString);
        Assert.Contains("Birch Row", (await visit.Browser.OpenAsync("/notices")).QuerySelector(".who")!.Read(), StringComparison.Ordinal);
        await using (var store = service.Store())
            Assert.Equal(account.Id, (await store.People.SingleAsync(row => row.Id == person)).AccountId);

        // A second row in the same cooperative would make two of one.
        var (again, _) = await service.InviteAsync("second@example.org", other);
        using var refused = await visit.SubmitAsync(again, "form.card");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
    }

    [Fact]
    public async Task Of_two_at_the_same_moment_one_joins()
    {
        await using var service = await Doors.OpenAsync();
        var (path, _) = await service.InviteAsync();
        using var first = new Visit(service);
        using var second = new Visit(service);
        var forms = new[] { (await first.Browser.OpenAsync(path)).QuerySelector("form.card")!, (await second.Browser.OpenAsync(path)).QuerySelector("form.card")! };
        var answers = await Task.WhenAll(
            first.Browser.SubmitAsync(forms[0], ("password", Doors.Password)), second.Browser.SubmitAsync(forms[1], ("password", "harvest gravel pony umbrella")));
        Assert.Equal([HttpStatusCode.Redirect, HttpStatusCode.Gone], answers.Select(answer => answer.StatusCode).Order());
        await using var store = service.Store();
        Assert.Single(await store.Accounts.Where(row => row.Email == Guest).ToListAsync());
        Array.ForEach(answers, answer => answer.Dispose());
    }
}
