using System.Net;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Tests.Pages;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>Guessing is slow, and locks nobody out (ASVS 5.0 6.1.1, 6.3.1; OWASP, device cookies).</summary>
public sealed class PaceTests
{
    [Fact]
    public void Waits_grow_to_a_quarter_of_an_hour_and_no_further()
    {
        Assert.Equal(Duration.Zero, Pace.WaitAfter(Pace.Free - 1));
        var waits = Enumerable.Range(Pace.Free, 20).Select(Pace.WaitAfter).ToList();
        Assert.Equal(Duration.FromSeconds(15), waits[0]);
        Assert.Equal(Duration.FromSeconds(30), waits[1]);
        Assert.Equal(Duration.FromMinutes(15), waits[^1]);
        Assert.Equal(waits.Order(), waits);
        Assert.Equal(Duration.FromMinutes(15), Pace.WaitAfter(int.MaxValue));
    }

    [Fact]
    public async Task A_thousand_failures_of_a_stranger_neither_keep_the_growers_device_out_nor_a_mailed_new_password()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var grower = new Visit(service);
        await grower.SignedInAsync();
        using (await grower.SubmitAsync("/notices", ".who form"))
            Assert.False(await grower.IsInAsync());

        using var stranger = new Visit(service);
        var form = (await stranger.Browser.OpenAsync("/sign-in")).QuerySelector("form.card")!;
        var refused = new Dictionary<HttpStatusCode, int>();
        for (var i = 0; i < 1000; i++)
        {
            using var answer = await stranger.Browser.SubmitAsync(form, ("email", Doors.Email), ("password", $"guess number {i}"));
            refused[answer.StatusCode] = refused.GetValueOrDefault(answer.StatusCode) + 1;
            // Twenty hours at a guess every seventy seconds or so.
            service.Clock().Advance(Duration.FromSeconds(72));
        }

        // Nothing is looked at while waiting: no more than five, and four an hour.
        Assert.InRange(refused[HttpStatusCode.UnprocessableEntity], Pace.Free, 100);
        Assert.Equal(1000, refused.Values.Sum());

        // The right password from an unknown device has to wait, and says how long; it is not looked at.
        using var elsewhere = new Visit(service);
        using (var waiting = await elsewhere.SignInAsync(Doors.Email, Doors.Password))
        {
            Assert.Equal(HttpStatusCode.TooManyRequests, waiting.StatusCode);
            Assert.InRange(waiting.Headers.RetryAfter!.Delta!.Value.TotalMinutes, 0.01, 15);
            Assert.Contains("Try again in", (await HtmlPage.ReadAsync(waiting)).QuerySelector("[role=alert]")!.Read(), StringComparison.Ordinal);
        }

        using (var known = await grower.SignInAsync(Doors.Email, Doors.Password))
            Assert.Equal("/", known.Headers.Location!.OriginalString);

        using (await elsewhere.SubmitAsync("/sign-in/forgotten", "form.card", ("email", Doors.Email)))
        {
            var (_, link) = await service.MailAsync(Doors.Email, "Set a new password");
            using var set = await elsewhere.SubmitAsync(link, "form.card", ("password", "harvest gravel pony umbrella"));
            Assert.Equal("/sign-in?done=reset", set.Headers.Location!.OriginalString);
            using var done = await elsewhere.SignInAsync(Doors.Email, "harvest gravel pony umbrella");
            Assert.Equal("/", done.Headers.Location!.OriginalString);
        }
    }

    [Fact]
    public async Task An_unknown_address_waits_as_a_known_one_does()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        var seen = new List<string>();
        foreach (var email in new[] { Doors.Email, "nobody@example.org" })
        {
            using var visit = new Visit(service);
            var statuses = new List<int>();
            for (var i = 0; i < Pace.Free + 2; i++)
            {
                using var answer = await visit.SignInAsync(email, "wrong and long enough");
                statuses.Add((int)answer.StatusCode);
            }

            seen.Add(string.Join(' ', statuses));
        }

        Assert.Equal("422 422 422 422 422 429 429", seen[0]);
        Assert.Equal(seen[0], seen[1]);
    }

    /// <summary>Many guesses at the same moment are as many guesses.</summary>
    [Fact]
    public async Task Attempts_at_the_same_moment_are_all_counted()
    {
        await using var service = await Doors.OpenAsync();
        var pace = service.Services.GetRequiredService<Pace>();
        var taken = await Task.WhenAll(Enumerable.Range(0, 40).Select(_ => Task.Run(() => pace.TakeAsync("password", "7", null, default))));
        Assert.Equal(Pace.Free, taken.Count(wait => wait is null));
        await using var store = service.Store();
        Assert.Equal(Pace.Free, (await store.SignInPaces.SingleAsync()).Failures);
    }

    /// <summary>2.4.1: more than ten forms a minute from one place are refused, with a page in words; looking is free.</summary>
    [Theory]
    [InlineData("/sign-in", "email", "password")]
    [InlineData("/sign-in/forgotten", "email", "email")]
    public async Task The_eleventh_form_in_a_minute_from_one_place_is_refused(string path, string first, string second)
    {
        await using var service = await Doors.OpenAsync(perMinute: 10);
        using var visit = new Visit(service);
        var form = (await visit.Browser.OpenAsync(path)).QuerySelector("form.card")!;
        for (var i = 0; i < 10; i++)
        {
            using var taken = await visit.Browser.SubmitAsync(form, (first, $"somebody{i}@example.org"), (second, $"somebody{i}@example.org"));
            Assert.NotEqual(HttpStatusCode.TooManyRequests, taken.StatusCode);
        }

        using var refused = await visit.Browser.SubmitAsync(form, (first, "another@example.org"), (second, "another@example.org"));
        Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
        Assert.NotNull(refused.Headers.RetryAfter?.Delta);
        Assert.Equal("Too many attempts", (await HtmlPage.ReadAsync(refused)).QuerySelector("h1")!.TextContent);
        using var look = await visit.Browser.GetAsync(path);
        Assert.Equal(HttpStatusCode.OK, look.StatusCode);
    }
}
