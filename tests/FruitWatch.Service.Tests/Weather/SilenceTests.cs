using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Weather;

public sealed class SilenceTests
{
    [Fact]
    public async Task A_feed_that_is_silent_for_two_days_is_told_of_once_to_the_coordinators_for_all_its_sites()
    {
        await using var run = await WeatherRun.StartAsync();
        var (feed, sites) = await SilentAsync(run);
        await PeopleAsync(run, sites, coordinators: true);

        for (var day = 0; day < 5; day++)
        {
            run.Clock.AdvanceDays(1);
            await run.MorningAsync();
            await run.MorningAsync();
            await using var so = run.Store();
            Assert.Equal(day == 0 ? 0 : 1, await so.Outbox.CountAsync(mail => mail.Key.StartsWith("silence:")));
        }

        await using var store = run.Store();
        var mail = await store.Outbox.SingleAsync(mail => mail.Key.StartsWith("silence:"), TestContext.Current.CancellationToken);
        Assert.Equal("ilse@example.org", mail.ToAddress);
        Assert.Equal(MailState.Sent, mail.State);
        foreach (var body in new[] { OneLine(mail.TextBody), OneLine(mail.HtmlBody) })
        {
            Assert.Contains("Feed 0", body, StringComparison.Ordinal);
            Assert.Contains("Lane", body, StringComparison.Ordinal);
            Assert.Contains("Mill", body, StringComparison.Ordinal);
            // Since when, why, what it means for the beds, what to do.
            Assert.Contains("Last good answer: Tuesday 12 May, 06:11.", body, StringComparison.Ordinal);
            Assert.Contains("Why: ", body, StringComparison.Ordinal);
            Assert.Contains("the last forecast, of Tuesday 12 May, 06:11", body, StringComparison.Ordinal);
            Assert.Contains("asked again by itself", body, StringComparison.Ordinal);
        }

        // It answers: nothing is sent, and another silence is another matter.
        run.Server.Answer(0, () => run.Forecast());
        run.Clock.AdvanceDays(1);
        await run.MorningAsync();
        Assert.Null((await run.ToldAsync(sites[0], feed)).SilenceToldAt);
        run.Server.Answer(0, Status(500));
        for (var day = 0; day < 3; day++)
        {
            run.Clock.AdvanceDays(1);
            await run.MorningAsync();
        }

        Assert.Equal(2, await store.Outbox.CountAsync(mail => mail.Key.StartsWith("silence:"), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Without_a_coordinator_everybody_is_told_in_their_language_of_the_sites_that_are_theirs()
    {
        await using var run = await WeatherRun.StartAsync();
        var (_, sites) = await SilentAsync(run);
        await PeopleAsync(run, sites, coordinators: false);
        for (var day = 0; day < 2; day++)
        {
            run.Clock.AdvanceDays(1);
            await run.MorningAsync();
        }

        await using var store = run.Store();
        var mails = await store.Outbox.Where(mail => mail.Key.StartsWith("silence:")).OrderBy(mail => mail.Id).ToListAsync(TestContext.Current.CancellationToken);
        Assert.Equal(["ilse@example.org", "rosalia@example.net"], mails.Select(mail => mail.ToAddress));
        Assert.Equal("No weather from Feed 0", mails[0].Subject);
        Assert.Equal("Sin datos del tiempo de Feed 0", mails[1].Subject);
        Assert.Contains("Lane", mails[1].TextBody, StringComparison.Ordinal);
        Assert.DoesNotContain("Mill", mails[1].TextBody, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nobody_is_told_at_night()
    {
        await using var run = await WeatherRun.StartAsync();
        var (_, sites) = await SilentAsync(run);
        await PeopleAsync(run, sites, coordinators: true);
        for (var day = 0; day < 2; day++)
        {
            run.Clock.AdvanceHours(23);
            await run.PullAsync(sites[0]);
        }

        // Past eight in the evening, and an hour before the site's morning.
        foreach (var hours in new[] { 17, 8 })
        {
            run.Clock.AdvanceHours(hours);
            Assert.Equal(0, await run.Services.GetRequiredService<Silences.SilenceRound>().ComposeAsync(TestContext.Current.CancellationToken));
        }

        run.Clock.AdvanceHours(2);
        Assert.Equal(1, await run.Services.GetRequiredService<Silences.SilenceRound>().ComposeAsync(TestContext.Current.CancellationToken));
        await using var store = run.Store();
        Assert.Equal(1, await store.Outbox.CountAsync(mail => mail.Key.StartsWith("silence:"), TestContext.Current.CancellationToken));
    }

    private static async Task<(Feed Feed, Site[] Sites)> SilentAsync(WeatherRun run)
    {
        run.Server.Answer(0, () => run.Forecast());
        var feed = await run.FeedAsync(0);
        Site[] sites = [await run.SiteAsync("Lane", feed), await run.SiteAsync("Mill", feed)];
        await run.MorningAsync();
        run.Server.Answer(0, Status(500));
        return (feed, sites);
    }

    private static async Task PeopleAsync(WeatherRun run, Site[] sites, bool coordinators)
    {
        await using var store = run.Store();
        var ilse = new Person { CooperativeId = run.Cooperative, Name = "Ilse", Email = "ilse@example.org", Role = coordinators ? Role.Coordinator : Role.Grower };
        ilse.Sites.AddRange(sites.Select(site => new PersonSite { SiteId = site.Id }));
        var rosalia = new Person { CooperativeId = run.Cooperative, Name = "Rosalía", Email = "rosalia@example.net", Language = "es" };
        rosalia.Sites.Add(new PersonSite { SiteId = sites[0].Id });
        store.AddRange(
            ilse, rosalia, new Person { CooperativeId = run.Cooperative, Name = "Away", Email = "away@example.org", Active = false, Role = coordinators ? Role.Coordinator : Role.Grower });
        await store.SaveChangesAsync();
    }

    private static string OneLine(string text) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static RequestDelegate Status(int status) => context =>
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    };
}
