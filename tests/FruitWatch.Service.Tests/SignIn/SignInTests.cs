using System.Net;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>Signing in and out, and sessions. Items are those of OWASP ASVS 5.0.</summary>
public sealed class SignInTests
{
    [Fact]
    public async Task A_member_signs_in_comes_back_to_where_they_were_and_signs_out_by_a_form_only()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var visit = new Visit(service);
        using (var closed = await visit.Browser.GetAsync("/notices?state=done"))
            Assert.Equal("/sign-in?back=%2Fnotices%3Fstate%3Ddone", closed.Headers.Location!.PathAndQuery);
        using (var done = await visit.SignInAsync(Doors.Email, Doors.Password, "/sign-in?back=%2Fnotices%3Fstate%3Ddone"))
            Assert.Equal("/notices?state=done", done.Headers.Location!.OriginalString);
        var page = await visit.Browser.OpenAsync("/notices");
        Assert.Contains("Ines Alder", page.QuerySelector(".who")!.Read(), StringComparison.Ordinal);

        using (var got = await visit.Browser.GetAsync("/sign-out"))
            Assert.NotEqual(HttpStatusCode.OK, got.StatusCode);
        Assert.True(await visit.IsInAsync());
        using (var bare = await visit.Browser.PostAsync("/sign-out", new FormUrlEncodedContent([])))
            Assert.Equal(HttpStatusCode.BadRequest, bare.StatusCode);
        using (await visit.SubmitAsync("/notices", ".who form"))
            Assert.False(await visit.IsInAsync());
        Assert.Equal(["sign-in.done"], await service.AuditAsync());
    }

    /// <summary>6.3.8: valid users cannot be told from failed attempts, by error messages or response codes.</summary>
    [Fact]
    public async Task A_wrong_password_and_an_unknown_address_get_the_same_answer()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        var answers = new List<string>();
        foreach (var email in new[] { Doors.Email, "nobody@example.org", "not an address" })
        {
            using var visit = new Visit(service);
            using var answer = await visit.SignInAsync(email, "wrong and long enough");
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            var page = await HtmlPage.ReadAsync(answer);
            page.QuerySelector("#email")!.RemoveAttribute("value");
            foreach (var token in page.QuerySelectorAll("input[name=form-token]"))
                token.RemoveAttribute("value");
            answers.Add(page.DocumentElement.OuterHtml);
        }

        Assert.Single(answers.Distinct());
        Assert.Equal(3, (await service.AuditAsync()).Count(action => action == "sign-in.refused"));
    }

    /// <summary>An address of elsewhere would lend our page's name to it (CWE-601).</summary>
    [Theory]
    [InlineData("https://elsewhere.example/")]
    [InlineData("//elsewhere.example/")]
    [InlineData("/\\elsewhere.example/")]
    [InlineData("javascript:alert(1)")]
    public async Task Nobody_is_sent_elsewhere(string back)
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var visit = new Visit(service);
        using var done = await visit.SignInAsync(Doors.Email, Doors.Password, "/sign-in?back=" + Uri.EscapeDataString(back));
        Assert.Equal("/", done.Headers.Location!.OriginalString);
    }

    /// <summary>7.3.1 (idle) and 7.3.2 (at most), 7.2.4 (a new token at every sign-in).</summary>
    [Fact]
    public async Task A_session_ends_twelve_hours_after_its_last_use_and_after_thirty_days_whatever_its_use()
    {
        var time = new FakeTimeProvider(new DateTimeOffset(2086, 10, 14, 10, 0, 0, TimeSpan.Zero)); // so late that the client still keeps what it is given
        await using var service = await Doors.OpenAsync(services => services.AddSingleton<TimeProvider>(time));
        await service.MemberAsync();
        using var idle = new Visit(service);
        using var busy = new Visit(service);
        await idle.SignedInAsync();
        await busy.SignedInAsync();
        Pass(Duration.FromHours(11));
        Assert.True(await busy.IsInAsync());
        Pass(Duration.FromHours(2));
        Assert.False(await idle.IsInAsync());
        for (var hours = 13; hours < 30 * 24; hours += 7)
        {
            Assert.True(await busy.IsInAsync());
            Pass(Duration.FromHours(7));
        }

        Assert.False(await busy.IsInAsync());

        void Pass(Duration span)
        {
            time.Advance(span.ToTimeSpan());
            service.Clock().Advance(span);
        }
    }

    /// <summary>7.4.3, 7.4.5: all sessions of an account can be ended; it holds at once.</summary>
    [Fact]
    public async Task Signing_out_everywhere_ends_every_session_at_once()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var here = new Visit(service);
        using var there = new Visit(service);
        await here.SignedInAsync();
        await there.SignedInAsync();
        using (var done = await here.SubmitAsync("/account/security", "form[action*=everywhere]"))
            Assert.Equal("/sign-in?done=everywhere", done.Headers.Location!.OriginalString);
        Assert.False(await here.IsInAsync());
        Assert.False(await there.IsInAsync());
    }

    /// <summary>3.3.1 to 3.3.4: cookies' flags and prefixes.</summary>
    [Theory]
    [InlineData("https://beds.example.org", "__Host-session", "__Host-device", true)]
    [InlineData("http://localhost:5080", "session", "device", false)]
    public async Task Cookies_are_held_to_this_host_and_out_of_reach_of_scripts(string baseUrl, string session, string device, bool secure)
    {
        await using var service = await Doors.OpenAsync(services => services.AddSingleton(new ServiceOptions { BaseUrl = new Uri(baseUrl), RunJobs = false }));
        await service.MemberAsync();
        using var visit = new Visit(service);
        using var done = await visit.SignInAsync(Doors.Email, Doors.Password);
        var set = done.Headers.GetValues("Set-Cookie").ToList();
        foreach (var name in new[] { session, device })
        {
            var cookie = Assert.Single(set, one => one.StartsWith(name + "=", StringComparison.Ordinal));
            Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Contains("path=/", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("domain", cookie, StringComparison.OrdinalIgnoreCase);
            Assert.Equal(secure, cookie.Contains("secure", StringComparison.OrdinalIgnoreCase));
        }
    }

    [Fact]
    public async Task A_member_of_two_cooperatives_is_in_one_at_a_time_and_in_no_third()
    {
        await using var service = await Doors.OpenAsync();
        long other;
        await using (var store = service.Store())
        {
            var cooperative = new Cooperative { Name = "Birch Row" };
            store.Cooperatives.Add(cooperative);
            await store.SaveChangesAsync();
            other = cooperative.Id;
        }

        var (_, first) = await service.MemberAsync();
        var (_, second) = await service.MemberAsync(Role.Viewer, cooperative: other);
        using var visit = new Visit(service);
        using (var done = await visit.SignInAsync(Doors.Email, Doors.Password, "/sign-in?back=%2Fnotices"))
            Assert.Equal("/sign-in/membership?back=%2Fnotices", done.Headers.Location!.OriginalString);
        Assert.Contains((await CooperativeAsync(first.CooperativeId)).Name, (await visit.Browser.OpenAsync("/notices")).QuerySelector(".who")!.Read(), StringComparison.Ordinal);
        using (var chosen = await visit.SubmitAsync("/sign-in/membership?back=%2Fnotices", $"button[value='{Visit.Key(second.Id)}']"))
            Assert.Equal("/notices", chosen.Headers.Location!.OriginalString);
        Assert.Contains("Birch Row", (await visit.Browser.OpenAsync("/notices")).QuerySelector(".who")!.Read(), StringComparison.Ordinal);
        using (var foreign = await visit.SubmitAsync("/sign-in/membership", "main button", ("person", Visit.Key(service.Coordinator.PersonId))))
            Assert.Equal(HttpStatusCode.NotFound, foreign.StatusCode);
        Assert.Contains("Birch Row", (await visit.Browser.OpenAsync("/notices")).QuerySelector(".who")!.Read(), StringComparison.Ordinal);

        async Task<Cooperative> CooperativeAsync(long id)
        {
            await using var store = service.Store();
            return await store.Cooperatives.SingleAsync(row => row.Id == id);
        }
    }

    /// <summary>6.3.3: whoever may change everything is led to a second factor; a grower is not stopped on the way.</summary>
    [Fact]
    public async Task A_coordinator_without_a_second_step_is_told_to_add_one()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync(Role.Coordinator);
        using var visit = new Visit(service);
        using (var done = await visit.SignInAsync(Doors.Email, Doors.Password, "/sign-in?back=%2Fnotices"))
            Assert.Equal("/sign-in/advice?back=%2Fnotices", done.Headers.Location!.OriginalString);
        Assert.Equal("/notices", (await visit.Browser.OpenAsync("/sign-in/advice?back=%2Fnotices")).QuerySelector(".buttons a:last-child")!.GetAttribute("href"));
        Assert.NotNull((await visit.Browser.OpenAsync("/account/security")).QuerySelector(".note"));
    }

    [Fact]
    public async Task The_head_of_the_page_shows_only_where_the_visitor_may_go()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync(Role.FarmHand);
        using var visit = new Visit(service);
        Assert.Empty((await visit.Browser.OpenAsync("/sign-in")).QuerySelectorAll("header nav a"));
        await visit.SignedInAsync();
        Assert.Equal(["/", "/notices"], (await visit.Browser.OpenAsync("/")).QuerySelectorAll("header nav a").Select(link => link.GetAttribute("href")));
    }
}
