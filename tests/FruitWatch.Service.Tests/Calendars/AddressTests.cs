using System.Net;
using FruitWatch.Service.Access;
using FruitWatch.Service.Calendars;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Calendars;

/// <summary>The address of a calendar: whom it shows what, and to whom nothing (service-standards 4.1; ASVS 5.0 8.2.2, 14.2.1).</summary>
public sealed class AddressTests(OneCalendarRun running) : IClassFixture<OneCalendarRun>
{
    private CalendarRun Run => running.Run;

    private InventedCooperative Invented => Run.Invented;

    [Fact]
    public async Task Each_role_reads_what_it_may_see_now_and_no_more()
    {
        var token = TestContext.Current.CancellationToken;
        var viewer = await Run.JoinAsync(Role.Viewer, "Ines Outeiro");
        Assert.Equal(["Alder Lane", "Mill Field"], await PlacesAsync(await Run.MakeAsync(viewer)));
        Assert.Equal(["Mill Field"], await PlacesAsync(await Run.MakeAsync(viewer, Invented.MillField)));

        // A farm hand: their sites; and a site that is taken from them is empty at once, and comes back with them.
        var hand = await Run.JoinAsync(Role.FarmHand, "Jacobo Mato", Invented.MillField);
        var (all, mill) = (await Run.MakeAsync(hand), await Run.MakeAsync(hand, Invented.MillField));
        Assert.Equal(["Mill Field"], await PlacesAsync(all));
        await using (var store = Run.Service.Store())
        {
            await store.PersonSites.Where(row => row.PersonId == hand.PersonId).ExecuteDeleteAsync(token);
            store.PersonSites.Add(new PersonSite { PersonId = hand.PersonId, SiteId = Invented.AlderLane });
            await store.SaveChangesAsync(token);
        }

        Assert.Equal(["Alder Lane"], await PlacesAsync(all));
        var lost = await Run.ReadAsync(mill);
        Assert.Empty(lost.Events);
        Assert.Equal("FruitWatch", lost.Properties["name"]);

        // A grower who may not read the others' beds: their own ones.
        var grower = await Run.JoinAsync(Role.Grower, "Katia Rouco");
        await using (var store = Run.Service.Store())
        {
            store.BedGrowers.Add(new BedGrower { BedId = Invented.Hazels, PersonId = grower.PersonId });
            await store.SaveChangesAsync(token);
        }

        var own = await Run.ReadAsync(await Run.MakeAsync(grower));
        Assert.NotEmpty(own.Events);
        Assert.All(own.Events, one => Assert.Contains($"-bed-{Invented.Hazels}@", one.Uid, StringComparison.Ordinal));
        await OpenBooksAsync(true);
        try
        {
            Assert.Contains((await Run.ReadAsync(await Run.MakeAsync(grower))).Events, one => one.Uid.Contains($"-bed-{Invented.Straw}@", StringComparison.Ordinal));
        }
        finally
        {
            await OpenBooksAsync(false);
        }

        // The coordinator is told about no site, and can make one of any.
        Assert.Empty(await PlacesAsync(await Run.MakeAsync(Run.Service.Coordinator)));
        Assert.Equal(["Alder Lane"], await PlacesAsync(await Run.MakeAsync(Run.Service.Coordinator, Invented.AlderLane)));
    }

    [Fact]
    public async Task What_is_unknown_taken_back_or_of_somebody_who_left_is_not_there_and_no_page()
    {
        var token = TestContext.Current.CancellationToken;
        var member = await Run.JoinAsync(Role.Grower, "Lois Pena");
        var (kept, back) = (await Run.MakeAsync(member), await Run.MakeAsync(member));
        using (var client = Run.Service.Client(member))
        {
            await using var store = Run.Service.Store();
            var last = await store.CalendarFeeds.Where(row => row.PersonId == member.PersonId).MaxAsync(row => row.Id, token);
            Assert.Equal(HttpStatusCode.NoContent, (await client.DeleteAsync($"/api/v1/me/calendars/{last}", token)).StatusCode);
            Assert.Equal(HttpStatusCode.NotFound, (await client.DeleteAsync($"/api/v1/me/calendars/{last}", token)).StatusCode);
        }

        // In another minute: what others have guessed from here does not count.
        Run.Pass(Duration.FromMinutes(2));
        foreach (var address in new[] { back, "/calendar/unknown", "/calendar/.ics", kept + "x", "/calendar/" + new string('a', 5000), kept[..^6] + ".ics" })
        {
            using var answer = await Run.AskAsync(address);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.Equal("text/plain", answer.Content.Headers.ContentType!.MediaType);
            Assert.Equal("There is no calendar at this address.\n", await answer.Content.ReadAsStringAsync(token));
            Assert.True(answer.Headers.CacheControl!.NoStore);
        }

        Assert.Contains("BEGIN:VCALENDAR", await Run.TextAsync(kept), StringComparison.Ordinal);
        Assert.Contains("BEGIN:VCALENDAR", await Run.TextAsync(kept[..^4]), StringComparison.Ordinal); // without .ics
        await Run.ChangeAsync(member, person => person.Active = false);
        using var gone = await Run.AskAsync(kept);
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
    }

    [Fact]
    public async Task Random_secrets_find_nothing_and_are_slowed_down_while_calendars_are_read()
    {
        var path = await Run.MakeAsync(await Run.JoinAsync(Role.Viewer, "Mencia Rial"));
        Run.Pass(Duration.FromMinutes(2));
        var answers = new Dictionary<HttpStatusCode, int>();
        for (var guess = 0; guess < 300; guess++)
        {
            using var answer = await Run.AskAsync($"/calendar/{Secrets.Draw()}.ics");
            answers[answer.StatusCode] = answers.GetValueOrDefault(answer.StatusCode) + 1;
            if (answer.StatusCode == HttpStatusCode.TooManyRequests)
                Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
        }

        Assert.Equal(new Dictionary<HttpStatusCode, int> { [HttpStatusCode.NotFound] = 10, [HttpStatusCode.TooManyRequests] = 290 }, answers);
        Assert.Contains("BEGIN:VCALENDAR", await Run.TextAsync(path), StringComparison.Ordinal);
        Run.Pass(Duration.FromMinutes(2));
    }

    /// <summary>Twelve times an hour, each calendar by itself.</summary>
    [Fact]
    public async Task A_calendar_that_is_read_too_often_says_when_to_come_again()
    {
        var member = await Run.JoinAsync(Role.Viewer, "Noa Sar");
        var (busy, other) = (await Run.MakeAsync(member), await Run.MakeAsync(member));
        for (var time = 0; time < CalendarPace.PerHour; time++)
        {
            using var good = await Run.AskAsync(busy);
            Assert.Equal(HttpStatusCode.OK, good.StatusCode);
        }

        using (var refused = await Run.AskAsync(busy))
        {
            Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
            Assert.InRange(refused.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 3000, 3600);
            Assert.Equal("text/plain", refused.Content.Headers.ContentType!.MediaType);
        }

        using (var good = await Run.AskAsync(other))
            Assert.Equal(HttpStatusCode.OK, good.StatusCode);
        Run.Pass(Duration.FromMinutes(61));
        using (var again = await Run.AskAsync(busy))
            Assert.Equal(HttpStatusCode.OK, again.StatusCode);
    }

    [Fact]
    public async Task Reading_is_noted_to_the_nearest_minutes_and_its_head_is_answered()
    {
        var path = await Run.MakeAsync(await Run.JoinAsync(Role.Viewer, "Olalla Tabo"));
        var secret = path.Split('/')[^1].Split('.')[0];
        using (var head = await Run.AskAsync(path, method: HttpMethod.Head))
        {
            Assert.Equal(HttpStatusCode.OK, head.StatusCode);
            Assert.NotNull(head.Headers.ETag);
            Assert.Empty(await head.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
            Assert.Equal(["no-referrer", "noindex"], [head.Headers.GetValues("Referrer-Policy").Single(), head.Headers.GetValues("X-Robots-Tag").Single()]);
        }

        var first = Run.Clock.GetCurrentInstant();
        Assert.Equal(first, await ReadAtAsync(secret));
        Run.Pass(Duration.FromMinutes(4));
        _ = await Run.TextAsync(path);
        Assert.Equal(first, await ReadAtAsync(secret));
        Run.Pass(Duration.FromMinutes(2));
        _ = await Run.TextAsync(path);
        Assert.Equal(first + Duration.FromMinutes(6), await ReadAtAsync(secret));
        using (var posted = await Run.AskAsync(path, method: HttpMethod.Post))
            Assert.Equal(HttpStatusCode.MethodNotAllowed, posted.StatusCode);
        // Neither the log nor the audit has heard the secret (ASVS 5.0 14.2.1, 16.2.5).
        Assert.DoesNotContain(Run.Service.Faults.Told, line => line.Contains(secret, StringComparison.Ordinal));
        await using var store = Run.Service.Store();
        var audit = await store.Audit.ToListAsync(TestContext.Current.CancellationToken);
        Assert.Contains(audit, entry => entry.Action == "calendar.made");
        Assert.DoesNotContain(audit, entry => entry.Detail?.Contains(secret, StringComparison.Ordinal) == true);
    }

    [Fact]
    public async Task Another_cooperative_sees_none_and_makes_none_of_these_sites()
    {
        await using (var store = Run.Service.Store())
            Assert.Equal(1, await store.Cooperatives.CountAsync(TestContext.Current.CancellationToken));
        long elsewhere;
        await using (var store = Run.Service.Store())
        {
            var far = new Store.Entities.Cooperative { Name = "Far Bank" };
            store.Add(far);
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
            elsewhere = far.Id;
        }

        var stranger = await Member.JoinAsync(Run.Service.Services, elsewhere, Role.Coordinator, "Paz Far");
        _ = await Run.MakeAsync(await Run.JoinAsync(Role.Viewer, "Quique Ulla"));
        using var client = Run.Service.Client(stranger);
        Assert.Contains("\"items\":[]", (await client.GetStringAsync("/api/v1/me/calendars", TestContext.Current.CancellationToken)).Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
        using var refused = await client.PostAsync("/api/v1/me/calendars", Json($$"""{"name":"x","siteId":{{Invented.AlderLane}}}"""), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        Assert.Contains("siteId", await refused.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        var calendar = await Run.ReadAsync(await Run.MakeAsync(stranger));
        Assert.Empty(calendar.Events);

        // Whatever row somebody put there: a person of one cooperative reads nothing of another.
        await using (var store = Run.Service.Store())
        {
            store.PersonSites.Add(new PersonSite { PersonId = stranger.PersonId, SiteId = Invented.AlderLane });
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        Assert.Empty((await Run.ReadAsync(await Run.MakeAsync(stranger))).Events);
    }

    private static StringContent Json(string body) => new(body, System.Text.Encoding.UTF8, "application/json");

    private async Task<IReadOnlyList<string>> PlacesAsync(string path) =>
        [.. (await Run.ReadAsync(path)).Events.Select(one => one.Location).Distinct().Order(StringComparer.Ordinal)];

    private async Task<Instant?> ReadAtAsync(string secret)
    {
        await using var store = Run.Service.Store();
        return (await store.CalendarFeeds.SingleAsync(row => row.Hash == Secrets.Hash(secret))).LastUsedAt;
    }

    private async Task OpenBooksAsync(bool open)
    {
        await using var store = Run.Service.Store();
        await store.Cooperatives.Where(row => row.Id == Invented.Cooperative).ExecuteUpdateAsync(set => set.SetProperty(row => row.GrowersReadAll, open));
    }
}
