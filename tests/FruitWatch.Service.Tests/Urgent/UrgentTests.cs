using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Log;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Urgent;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Urgent;

/// <summary>What cannot wait for the next morning: told at once or held, three times a day at most, and taken back.</summary>
public sealed class UrgentTests
{
    private static readonly LocalDate s_today = InventedCooperative.Today;

    [Fact]
    public async Task After_the_morning_mail_it_is_told_at_once_once_and_with_a_way_to_stop_it()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        await scene.DigestsAsync();
        var notice = await scene.NoticeAsync(s_today.PlusDays(1), s_today);

        await scene.ComposeAsync();
        var mail = Assert.Single(await scene.UrgentAsync(ana));
        Assert.Equal((scene.Now, MailState.Pending), (mail.NextTryAt, mail.State));
        // What cannot be sent by the evening is not tried in quiet hours, which begin at eight.
        Assert.Equal(new LocalDateTime(2026, 10, 14, 20, 0), mail.NotAfter.InZone(Scene.Zone).LocalDateTime);
        Assert.StartsWith("Urgent: frost threatens Straw ring", mail.Subject, StringComparison.Ordinal);
        Assert.Contains("> Cover is on:", mail.TextBody, StringComparison.Ordinal);
        var fields = JsonSerializer.Deserialize<Dictionary<string, string>>(mail.Headers!)!;
        Assert.Equal("List-Unsubscribe=One-Click", fields["List-Unsubscribe-Post"]); // RFC 8058 section 3.1
        Assert.StartsWith("<http", fields["List-Unsubscribe"], StringComparison.Ordinal);
        Assert.Contains($"<bed.{scene.Service.Invented.Straw}.2026@", fields["References"], StringComparison.Ordinal);

        await scene.ComposeAsync();
        Assert.Single(await scene.UrgentAsync(ana));
        // The next morning's digest lists it as told before.
        scene.Clock.Reset(scene.Now + Duration.FromDays(1));
        await scene.MorningAsync();
        await scene.DigestsAsync();
        var digest = (await scene.MailsAsync(ana, "digest:"))[^1];
        await using var store = scene.Service.Store();
        Assert.Equal(DigestRole.Open, (await store.DigestNotices.SingleAsync(told => told.MailId == digest.Id && told.NoticeId == notice)).Role);
    }

    [Fact]
    public async Task Before_the_morning_mail_it_is_left_to_that()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync(person => person.MorningAt = new LocalTime(9, 0));
        await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(ana));

        scene.Clock.Reset(scene.Now + Duration.FromHours(1));
        await scene.DigestsAsync();
        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(ana));
        Assert.StartsWith("Urgent:", Assert.Single(await scene.MailsAsync(ana, "digest:")).Subject, StringComparison.Ordinal);
    }

    [Fact]
    public async Task In_quiet_hours_it_is_held_if_it_is_of_use_then_and_told_only_to_those_who_said_so()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        var ben = await scene.PersonAsync(person => person.Urgent = UrgentWish.AtAnyHour);
        await scene.DigestsAsync();
        scene.Clock.Reset(new LocalDateTime(2026, 10, 14, 22, 10).InZoneLeniently(Scene.Zone).ToInstant());
        await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        var later = await scene.NoticeAsync(s_today.PlusDays(2), s_today.PlusDays(1), scene.Service.Invented.Young, scene.Service.Invented.MillField);

        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(ana));
        var woken = Assert.Single(await scene.UrgentAsync(ben));
        Assert.Equal((scene.Now, new LocalDateTime(2026, 10, 16, 0, 0)), (woken.NextTryAt, woken.NotAfter.InZone(Scene.Zone).LocalDateTime));

        // Tonight's frost is no use to her at six tomorrow; that of the night after is, and stands in the morning mail where one is about to come.
        var never = await scene.PersonAsync(person => person.Digests = DigestWish.Never);
        scene.Clock.Reset(new LocalDateTime(2026, 10, 15, 6, 0).InZoneLeniently(Scene.Zone).ToInstant());
        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(ana));
        var held = Assert.Single(await scene.UrgentAsync(never));
        await using var store = scene.Service.Store();
        Assert.Equal([later], await store.DigestNotices.Where(told => told.MailId == held.Id).Select(told => told.NoticeId).ToListAsync());
    }

    [Fact]
    public async Task What_ended_in_the_night_is_not_told_in_the_morning()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync(person => person.Digests = DigestWish.Never);
        scene.Clock.Reset(new LocalDateTime(2026, 10, 14, 22, 10).InZoneLeniently(Scene.Zone).ToInstant());
        var notice = await scene.NoticeAsync(s_today.PlusDays(2), s_today.PlusDays(1));
        await scene.ComposeAsync();
        await using (var store = scene.Service.Store())
            await store.Notices.Where(row => row.Id == notice).ExecuteUpdateAsync(set => set.SetProperty(row => row.State, NoticeState.Done));
        scene.Clock.Reset(new LocalDateTime(2026, 10, 15, 6, 5).InZoneLeniently(Scene.Zone).ToInstant());
        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(ana));
    }

    [Fact]
    public async Task A_morning_mail_that_is_hours_away_is_not_waited_for()
    {
        await using var scene = await Scene.StartAsync();
        var evening = await scene.PersonAsync(person => person.MorningAt = new LocalTime(18, 0));
        var notice = await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        await scene.ComposeAsync();
        Assert.Single(await scene.UrgentAsync(evening));

        scene.Clock.Reset(new LocalDateTime(2026, 10, 14, 18, 5).InZoneLeniently(Scene.Zone).ToInstant());
        await scene.DigestsAsync();
        var digest = Assert.Single(await scene.MailsAsync(evening, "digest:"));
        await using var store = scene.Service.Store();
        Assert.Equal(DigestRole.Open, (await store.DigestNotices.SingleAsync(told => told.MailId == digest.Id && told.NoticeId == notice)).Role);
    }

    /// <summary>RFC 5321 section 4.2.1: what is refused for good is not tried again, under another key neither.</summary>
    [Fact]
    public async Task Refused_it_is_not_written_again_before_the_next_morning()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        await scene.DigestsAsync();
        var notice = await scene.NoticeAsync(s_today.PlusDays(2), s_today.PlusDays(1));
        await scene.ComposeAsync();
        await using var store = scene.Service.Store();
        await store.Outbox.Where(mail => mail.Key.StartsWith(UrgentRound.KeyPrefix)).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.State, MailState.Failed));
        scene.Clock.Advance(Duration.FromMinutes(5));
        Assert.Equal(0, await scene.ComposeAsync());

        scene.Clock.Advance(Duration.FromDays(1));
        await scene.MorningAsync();
        await scene.DigestsAsync();
        var digest = (await scene.MailsAsync(ana, "digest:"))[^1];
        Assert.Equal(DigestRole.New, (await store.DigestNotices.SingleAsync(told => told.MailId == digest.Id && told.NoticeId == notice)).Role);
    }

    [Fact]
    public async Task Of_a_bed_that_was_given_up_nobody_is_told()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        var choosy = await scene.PersonAsync(person => person.Digests = DigestWish.WhenThereIsNews, sites: [scene.Service.Invented.MillField]);
        await scene.DigestsAsync();
        await scene.NoticeAsync(s_today.PlusDays(1), s_today, scene.Service.Invented.Young, scene.Service.Invented.MillField);
        await using var store = scene.Service.Store();
        await store.Beds.Where(bed => bed.Id == scene.Service.Invented.Young).ExecuteUpdateAsync(set => set.SetProperty(bed => bed.RetiredOn, s_today));
        Assert.Equal(0, await scene.ComposeAsync());
        Assert.Empty(await scene.UrgentAsync(ana));

        scene.Clock.Advance(Duration.FromDays(1));
        await scene.MorningAsync();
        await store.Notices.Where(notice => notice.BedId != scene.Service.Invented.Young).ExecuteUpdateAsync(set => set.SetProperty(notice => notice.State, NoticeState.Done));
        var before = (await scene.MailsAsync(choosy, "digest:")).Count;
        await scene.DigestsAsync();
        Assert.Equal(before, (await scene.MailsAsync(choosy, "digest:")).Count);
    }

    [Fact]
    public async Task A_site_whose_books_cannot_be_opened_costs_no_other_its_look_and_nobody_their_mail()
    {
        await using var scene = await Scene.StartAsync();
        var far = await scene.PersonAsync(sites: [scene.Service.Invented.MillField]);
        var both = await scene.PersonAsync();
        await scene.ForecastAsync(wind: 2, scene.Service.Invented.MillField);
        await scene.ForecastAsync(wind: 2);
        await using var store = scene.Service.Store();
        // Its species has left the catalogue: the books of its site cannot be opened.
        await store.Beds.Where(bed => bed.Id == scene.Service.Invented.Straw).ExecuteUpdateAsync(set => set.SetProperty(bed => bed.SpeciesKey, "gone"));

        await Assert.ThrowsAsync<AggregateException>(() => scene.Service.Services.GetRequiredService<MorningStep>().TellAsync(TestContext.Current.CancellationToken));

        Assert.NotNull((await store.Mornings.SingleAsync(row => row.SiteId == scene.Service.Invented.MillField)).LookedAtForecastId);
        Assert.Null((await store.Mornings.SingleAsync(row => row.SiteId == scene.Service.Invented.AlderLane)).LookedAtForecastId);
        Assert.Equal(MailState.Sent, Assert.Single(await scene.MailsAsync(far, "digest:")).State);
        Assert.Empty(await scene.MailsAsync(both, "digest:"));
    }

    [Fact]
    public async Task Three_in_a_day_and_no_more()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        await scene.DigestsAsync();
        for (var i = 0; i < 5; i++)
        {
            await scene.NoticeAsync(s_today.PlusDays(1), s_today, episode: 5 + i);
            await scene.ComposeAsync();
        }

        Assert.Equal(UrgentRound.MostADay, (await scene.UrgentAsync(ana)).Count);
    }

    [Fact]
    public async Task What_was_sent_is_taken_back_in_an_answer_to_it_and_what_was_not_is_not_sent()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        await scene.DigestsAsync();
        var notice = await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        await scene.ComposeAsync();
        var told = Assert.Single(await scene.UrgentAsync(ana));
        await scene.WithdrawAsync(notice);
        await scene.ComposeAsync();
        Assert.Equal(MailState.Expired, Assert.Single(await scene.UrgentAsync(ana)).State);
        Assert.Empty(await scene.MailsAsync(ana, UrgentRound.BackPrefix));

        var second = await scene.NoticeAsync(s_today.PlusDays(1), s_today, episode: 9);
        await scene.ComposeAsync();
        told = (await scene.UrgentAsync(ana)).Single(mail => mail.State == MailState.Pending);
        await using (var store = scene.Service.Store())
            await store.Outbox.Where(mail => mail.Id == told.Id).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.State, MailState.Sent).SetProperty(mail => mail.Attempts, 1));
        await scene.WithdrawAsync(second);
        await scene.ComposeAsync();
        await scene.ComposeAsync();
        var back = Assert.Single(await scene.MailsAsync(ana, UrgentRound.BackPrefix));
        Assert.Equal("No longer needed: frost ahead (Straw ring)", back.Subject);
        Assert.Contains($"<{told.MessageId}>", JsonSerializer.Deserialize<Dictionary<string, string>>(back.Headers!)!["In-Reply-To"], StringComparison.Ordinal);
        // The digest does not say it a second time.
        scene.Clock.Reset(scene.Now + Duration.FromDays(1));
        await scene.MorningAsync();
        await scene.DigestsAsync();
        Assert.DoesNotContain("frost ahead", (await scene.MailsAsync(ana, "digest:"))[^1].TextBody, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_mail_that_waits_is_cancelled_once_nothing_in_it_holds_any_more()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        await scene.DigestsAsync();
        var straw = await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        var young = await scene.NoticeAsync(s_today.PlusDays(1), s_today, scene.Service.Invented.Young, scene.Service.Invented.MillField);
        await scene.ComposeAsync();
        await scene.WithdrawAsync(straw);
        await scene.ComposeAsync();
        // The other frost is still to come: both are told of, and the first is taken back.
        Assert.Equal(MailState.Pending, Assert.Single(await scene.UrgentAsync(ana)).State);
        Assert.Single(await scene.MailsAsync(ana, UrgentRound.BackPrefix));

        var ben = await scene.PersonAsync();
        await scene.DigestsAsync();
        var third = await scene.NoticeAsync(s_today.PlusDays(1), s_today, episode: 2);
        var fourth = await scene.NoticeAsync(s_today.PlusDays(1), s_today, scene.Service.Invented.Young, scene.Service.Invented.MillField, episode: 2);
        await scene.ComposeAsync();
        await scene.WithdrawAsync(third);
        await scene.WithdrawAsync(fourth);
        await scene.ComposeAsync();
        Assert.Equal(MailState.Expired, Assert.Single(await scene.UrgentAsync(ben)).State);
        Assert.Empty(await scene.MailsAsync(ben, UrgentRound.BackPrefix));
    }

    [Fact]
    public async Task Rounds_that_meet_tell_each_reader_once()
    {
        await using var scene = await Scene.StartAsync();
        var people = new List<long>();
        for (var i = 0; i < 8; i++)
            people.Add(await scene.PersonAsync());
        await scene.DigestsAsync();
        var notice = await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        Assert.Equal(8, (await Task.WhenAll(Enumerable.Range(0, 5).Select(_ => Task.Run(scene.ComposeAsync)))).Sum());
        foreach (var person in people)
            Assert.Equal(MailState.Pending, Assert.Single(await scene.UrgentAsync(person)).State);

        await using (var store = scene.Service.Store())
            await store.Outbox.Where(one => one.Key.StartsWith(UrgentRound.KeyPrefix)).ExecuteUpdateAsync(set => set.SetProperty(one => one.State, MailState.Sent));
        await scene.WithdrawAsync(notice);
        Assert.Equal(8, (await Task.WhenAll(Enumerable.Range(0, 5).Select(_ => Task.Run(scene.ComposeAsync)))).Sum());
    }

    [Fact]
    public async Task Who_wants_none_or_is_away_gets_none_and_a_deputy_is_told()
    {
        await using var scene = await Scene.StartAsync();
        var never = await scene.PersonAsync(person => person.Urgent = UrgentWish.Never);
        var left = await scene.PersonAsync(person => person.KindsLeftOut = "frost-ahead weekly-check");
        var deputy = await scene.PersonAsync(sites: []);
        var away = await scene.PersonAsync(person => (person.AwayFrom, person.AwayUntil, person.DeputyId) = (s_today.PlusDays(-1), s_today, deputy));
        var alone = await scene.PersonAsync(person => person.Digests = DigestWish.Never);
        await scene.DigestsAsync();
        await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(never));
        Assert.Empty(await scene.UrgentAsync(left));
        Assert.Empty(await scene.UrgentAsync(away));
        Assert.Single(await scene.UrgentAsync(deputy));
        Assert.Single(await scene.UrgentAsync(alone));
        Assert.Empty(await scene.MailsAsync(alone, "digest:"));
        Assert.Empty(await scene.MailsAsync(away, "digest:"));
        Assert.Contains("Told", Assert.Single(await scene.MailsAsync(deputy, "digest:")).TextBody, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_newer_forecast_opens_what_is_urgent_and_a_calmer_one_takes_it_back()
    {
        await using var scene = await Scene.StartAsync();
        var ana = await scene.PersonAsync();
        await using (var store = scene.Service.Store())
        {
            store.LogEntries.Add(new LogEntry { BedId = scene.Service.Invented.Straw, On = s_today.PlusDays(-1), Kind = LogKinds.Cover, Text = "sheet", RecordedAt = scene.Now });
            await store.SaveChangesAsync();
        }

        await scene.DigestsAsync();
        await scene.ForecastAsync(wind: 2);
        Assert.Equal(1, await scene.LookAsync());
        Assert.Equal(0, await scene.LookAsync());
        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(ana));
        var open = await scene.OpenAsync();

        await scene.ForecastAsync(wind: 9);
        await scene.LookAsync();
        await scene.ComposeAsync();
        var mail = Assert.Single(await scene.UrgentAsync(ana));
        Assert.Contains("storm", mail.Subject, StringComparison.Ordinal);
        // What is not urgent waits for the morning: nothing else opened or ended.
        Assert.Equal(open.Append("storm-ahead").Order(), (await scene.OpenAsync()).Order());

        await using (var store = scene.Service.Store())
            await store.Outbox.Where(one => one.Id == mail.Id).ExecuteUpdateAsync(set => set.SetProperty(one => one.State, MailState.Sent).SetProperty(one => one.Attempts, 1));
        await scene.ForecastAsync(wind: 3);
        await scene.LookAsync();
        await scene.ComposeAsync();
        Assert.Single(await scene.MailsAsync(ana, UrgentRound.BackPrefix));
        Assert.Equal(open.Order(), (await scene.OpenAsync()).Order());
    }

    /// <summary>What waits about a bed that its reader leaves out ends with that; what tells of another bed as well goes.</summary>
    [Fact]
    public async Task Of_a_bed_that_was_left_out_nothing_is_told_or_taken_back_and_what_waits_about_it_ends()
    {
        await using var scene = await Scene.StartAsync();
        var (straw, young) = (scene.Service.Invented.Straw, scene.Service.Invented.Young);
        var never = await scene.PersonAsync(person => person.BedsLeftOut.AddRange([new PersonBedLeftOut { BedId = straw }, new PersonBedLeftOut { BedId = young }]));
        var (ana, ben) = (await scene.PersonAsync(), await scene.PersonAsync());
        await scene.DigestsAsync();
        var notice = await scene.NoticeAsync(s_today.PlusDays(1), s_today);
        await scene.NoticeAsync(s_today.PlusDays(1), s_today, young, scene.Service.Invented.MillField);
        await scene.ComposeAsync();
        Assert.Empty(await scene.UrgentAsync(never));
        Assert.Contains("Straw ring", Assert.Single(await scene.UrgentAsync(ana)).TextBody, StringComparison.Ordinal);

        await scene.LeaveOutAsync(ana, straw);
        Assert.Equal(MailState.Pending, Assert.Single(await scene.UrgentAsync(ana)).State);
        await scene.LeaveOutAsync(ana, young);
        var ended = Assert.Single(await scene.UrgentAsync(ana));
        Assert.Equal((MailState.Expired, WaitingMails.NotWanted), (ended.State, ended.LastError));
        Assert.Equal(MailState.Pending, Assert.Single(await scene.UrgentAsync(ben)).State);
        await scene.ComposeAsync();
        Assert.Single(await scene.UrgentAsync(ana));

        // Read by ben, who then leaves out one bed: what turns out not to come there he is not told of.
        await using (var store = scene.Service.Store())
            await store.Outbox.Where(mail => mail.PersonId == ben).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.State, MailState.Sent));
        await scene.LeaveOutAsync(ben, straw);
        await scene.WithdrawAsync(notice);
        await scene.ComposeAsync();
        Assert.Empty(await scene.MailsAsync(ben, UrgentRound.BackPrefix));

        // Taken up again, a bed of which nobody could read is told of anew.
        await using (var store = scene.Service.Store())
            await store.PersonBedsLeftOut.Where(row => row.PersonId == ana).ExecuteDeleteAsync();
        await scene.ComposeAsync();
        Assert.Contains("Path by the fence", (await scene.UrgentAsync(ana))[^1].TextBody, StringComparison.Ordinal);
        Assert.Equal(2, (await scene.UrgentAsync(ana)).Count);
    }

    /// <summary>The invented cooperative on its morning, with people who are told.</summary>
    private sealed class Scene(TestService service) : IAsyncDisposable
    {
        public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Madrid"];

        public TestService Service => service;

        public FakeClock Clock { get; } = (FakeClock)service.Services.GetRequiredService<IClock>();

        public Instant Now => Clock.GetCurrentInstant();

        public static async Task<Scene> StartAsync()
        {
            var service = await TestService.StartAsync();
            await using var store = service.Store();
            (await store.Feeds.SingleAsync()).Description = FeedPresets.Find("station-daily-csv")!.Json;
            (await store.Cooperatives.SingleAsync()).GrowersReadAll = true;
            await store.SaveChangesAsync();
            return new Scene(service);
        }

        public ValueTask DisposeAsync() => service.DisposeAsync();

        public async Task<long> PersonAsync(Action<Person>? adjust = null, long[]? sites = null)
        {
            await using var store = service.Store();
            var person = new Person { CooperativeId = service.Invented.Cooperative, Name = "Told", Email = $"{Guid.NewGuid():N}@example.org", Role = Role.Coordinator };
            person.Sites.AddRange((sites ?? [service.Invented.AlderLane, service.Invented.MillField]).Select(site => new PersonSite { SiteId = site }));
            adjust?.Invoke(person);
            store.People.Add(person);
            await store.SaveChangesAsync();
            return person.Id;
        }

        public Task<int> DigestsAsync() => service.Services.GetRequiredService<DigestRound>().ComposeDueAsync(TestContext.Current.CancellationToken);

        public Task<int> ComposeAsync() => service.Services.GetRequiredService<UrgentRound>().ComposeAsync(TestContext.Current.CancellationToken);

        public Task<int> LookAsync() => service.Services.GetRequiredService<UrgentLook>().RunAsync(TestContext.Current.CancellationToken);

        /// <summary>The rounds of the day that has come.</summary>
        public async Task MorningAsync()
        {
            await using var store = service.Store();
            foreach (var site in new[] { service.Invented.AlderLane, service.Invented.MillField })
                store.Mornings.Add(new SiteMorning { SiteId = site, On = Now.InZone(Zone).Date, DoneAt = Now, FeedState = "fresh" });
            await store.SaveChangesAsync();
        }

        public async Task<long> NoticeAsync(LocalDate night, LocalDate deadline, long? bed = null, long? site = null, int episode = 1)
        {
            var draft = new NoticeDraft(
                NoticeKind.FrostAhead, night, deadline, NoticeConfidence.Firm,
                NoticeReason.Of(ReasonCode.FrostThreatens, (ReasonNumber.GroundMin, -4), (ReasonNumber.FrostMark, -2), (ReasonNumber.Covered, 0), (ReasonNumber.LeadDays, 1)))
            { Urgent = true };
            await using var store = service.Store();
            var row = NoticeRows.Open(
                site ?? service.Invented.AlderLane, bed ?? service.Invented.Straw, new NoticeOpened(NoticeKind.FrostAhead, episode, draft), Now.InZone(Zone).Date, Now);
            store.Notices.Add(row);
            await store.SaveChangesAsync();
            return row.Id;
        }

        /// <summary>By the link in a mail.</summary>
        public async Task LeaveOutAsync(long person, long bed)
        {
            var token = new Uri(service.Services.GetRequiredService<StopLinks>().AddressOf(new StopLink(person, StopTopic.Urgent))).Segments[^1];
            Assert.NotNull(await service.Services.GetRequiredService<StopBook>().ChooseAsync(token, DigestWish.EveryMorning, UrgentWish.InWakingHours, [], [bed], TestContext.Current.CancellationToken));
        }

        public async Task WithdrawAsync(long id)
        {
            await using var store = service.Store();
            var row = await store.Notices.SingleAsync(notice => notice.Id == id);
            NoticeRows.Close(row, new NoticeClosed(NoticeKind.FrostAhead, id, NoticeEnd.Withdrawn, ClosingCode.ForecastChanged), Now.InZone(Zone).Date, Now);
            await store.SaveChangesAsync();
        }

        /// <summary>A newer forecast for Alder Lane: mild, and as windy tomorrow as is said.</summary>
        public async Task ForecastAsync(double wind, long? site = null)
        {
            Clock.Advance(Duration.FromMinutes(30));
            await using var store = service.Store();
            var days = Enumerable.Range(0, 10).Select(i => new WeatherDay(s_today.PlusDays(i), 15, 9, 0) { Wind = i == 1 ? wind : 2 }).ToList();
            store.Forecasts.Add(new ForecastIssue
            {
                SiteId = site ?? service.Invented.AlderLane,
                FeedId = service.Invented.Feed,
                IssuedAt = Now,
                FetchedAt = Now,
                FirstDay = s_today,
                Days = 10,
                Payload = new ForecastPayload(days, []).Write(),
            });
            await store.SaveChangesAsync();
        }

        public async Task<List<string>> OpenAsync()
        {
            await using var store = service.Store();
            return await store.Notices.Where(notice => notice.State == NoticeState.Open && notice.SiteId == service.Invented.AlderLane).Select(notice => notice.Kind).ToListAsync();
        }

        public Task<List<OutgoingMail>> UrgentAsync(long person) => MailsAsync(person, UrgentRound.KeyPrefix);

        public async Task<List<OutgoingMail>> MailsAsync(long person, string prefix)
        {
            await using var store = service.Store();
            return await store.Outbox.AsNoTracking().Where(mail => mail.PersonId == person && mail.Key.StartsWith(prefix)).OrderBy(mail => mail.Id).ToListAsync();
        }
    }
}
