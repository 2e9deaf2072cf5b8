using System.Net;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Log;
using FruitWatch.Service.People;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Deeds;

/// <summary>Buttons of mails: looking does nothing, the button does one thing once (service-standards 3.3, test 28).</summary>
public sealed class DeedTests
{
    /// <summary>Programs open links before people do (RFC 8058, abstract; ASVS 5.0 3.5.3): a robot's looks leave not a byte behind.</summary>
    [Fact]
    public async Task Looking_twenty_times_changes_nothing_and_the_button_writes_it_down_once()
    {
        await using var service = await TestService.StartAsync();
        var ana = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane);
        var notice = await service.WaterAsync();
        var link = service.Link(Deed.Watered, notice, ana.PersonId);
        using var phone = service.Browser(null);
        // The first page ever draws the keys of forms.
        await phone.OpenAsync(link);
        var before = await service.PrintAsync();
        for (var i = 0; i < 20; i++)
        {
            using var seen = await phone.SendAsync(new HttpRequestMessage(i % 2 == 0 ? HttpMethod.Get : HttpMethod.Head, link));
            Assert.Equal(HttpStatusCode.OK, seen.StatusCode);
            Assert.True(seen.Headers.CacheControl!.NoStore);
            Assert.Equal("no-referrer", Assert.Single(seen.Headers.GetValues("Referrer-Policy")));
            Assert.Equal("noindex", Assert.Single(seen.Headers.GetValues("X-Robots-Tag")));
        }

        Assert.Equal(before, await service.PrintAsync());
        var page = await phone.OpenAsync(link);
        var said = page.QuerySelector("main")!.Read();
        Assert.Contains("Under the hazels", said, StringComparison.Ordinal);
        Assert.Contains("Alder Lane", said, StringComparison.Ordinal);
        Assert.Contains("Watered: 25 litres", said, StringComparison.Ordinal);
        Assert.Contains("Ana Field", said, StringComparison.Ordinal);
        Assert.Single(page.QuerySelectorAll("main button"));
        Assert.Empty(page.QuerySelectorAll("script, [style], style"));

        using var done = await phone.SubmitAsync(page.QuerySelector("main form")!);
        Assert.Equal(HttpStatusCode.OK, done.StatusCode);
        Assert.Contains("Written down: today, 08:30", (await HtmlPage.ReadAsync(done)).QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.DoesNotContain(done.Headers.TryGetValues("Set-Cookie", out var set) ? set : [], cookie => cookie.StartsWith("session", StringComparison.Ordinal) || cookie.StartsWith("link", StringComparison.Ordinal));
        using (var today = await phone.GetAsync("/"))
            Assert.Contains("/sign-in", today.RequestMessage!.RequestUri!.AbsolutePath, StringComparison.Ordinal);

        await using var store = service.Store();
        var entry = await store.LogEntries.SingleAsync(row => row.BedId == service.Invented.Hazels && row.Kind == LogKinds.Watered);
        Assert.Equal((25.0, InventedCooperative.Today, Recorders.Of(ana.PersonId)), (entry.Amount!.Value, entry.On, entry.RecordedBy));
        var deed = await store.MailDeeds.SingleAsync();
        Assert.Equal((ana.PersonId, notice, entry.Id, "watered"), (deed.PersonId, deed.NoticeId, deed.LogEntryId!.Value, deed.Deed));
        Assert.DoesNotContain(link[DeedLinks.Path.Length..], deed.Nonce, StringComparison.Ordinal);
        Assert.Contains(await store.Audit.ToListAsync(), line => line.Action == "mail-deed.made" && line.Via == "mail" && line.PersonId == ana.PersonId);
        Assert.Contains(await store.Audit.ToListAsync(), line => line.Action == "log-entry.made" && line.Via == "mail");
    }

    [Fact]
    public async Task Sent_again_it_shows_what_it_did_can_be_undone_and_done_again()
    {
        await using var service = await TestService.StartAsync();
        var ana = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane);
        var link = service.Link(Deed.Watered, await service.WaterAsync(), ana.PersonId);
        using var phone = service.Browser(null);
        var page = await phone.OpenAsync(link);
        for (var i = 0; i < 3; i++)
        {
            using var again = await phone.SubmitAsync(page.QuerySelector("main form")!);
            Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        }

        Assert.Equal((1, 0), await CountAsync(service));
        var used = await phone.OpenAsync(link);
        Assert.Equal("Watered", used.QuerySelector("h1")!.TextContent);
        using var undone = await phone.SubmitAsync(used.QuerySelector("main form")!);
        var after = await HtmlPage.ReadAsync(undone);
        Assert.Contains("Undone: today", after.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.Equal((0, 1), await CountAsync(service));
        await using (var store = service.Store())
            Assert.NotNull((await store.MailDeeds.SingleAsync()).UndoneAt);
        using var undoneAgain = await phone.SubmitAsync(used.QuerySelector("main form")!);
        Assert.Equal((0, 1), await CountAsync(service));

        using var redone = await phone.SubmitAsync(after.QuerySelector("main form")!);
        Assert.Equal("Watered", (await HtmlPage.ReadAsync(redone)).QuerySelector("h1")!.TextContent);
        Assert.Equal((1, 1), await CountAsync(service));

        // Undone on the page of the bed, the link offers it again.
        using var coordinator = service.Browser();
        var bed = await coordinator.OpenAsync($"/beds/{service.Invented.Hazels}");
        using (await coordinator.SubmitAsync(bed.QuerySelector(".entries form button")!))
            Assert.Equal((0, 2), await CountAsync(service));
        Assert.Equal("Did you water it?", (await phone.OpenAsync(link)).QuerySelector("h1")!.TextContent);
    }

    [Fact]
    public async Task Two_fingers_at_once_make_one_entry()
    {
        await using var service = await TestService.StartAsync();
        var ana = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane);
        var ben = await service.JoinAsync(Role.FarmHand, "Ben Field", service.Invented.AlderLane);
        var notice = await service.WaterAsync();
        string[] links = [service.Link(Deed.Watered, notice, ana.PersonId), service.Link(Deed.Watered, notice, ana.PersonId), service.Link(Deed.Watered, notice, ben.PersonId)];
        // All have the page open before the first presses: whoever opened it later would be offered to undo.
        var fingers = await Task.WhenAll(links.Concat(links).Select(async link =>
        {
            var phone = service.Browser(null);
            return (Phone: phone, Form: (await phone.OpenAsync(link)).QuerySelector("main form")!);
        }));
        var pressed = await Task.WhenAll(fingers.Select(async finger =>
        {
            using (finger.Phone)
            {
                using var answer = await finger.Phone.SubmitAsync(finger.Form);
                return answer.StatusCode;
            }
        }));
        Assert.All(pressed, status => Assert.True(status is HttpStatusCode.OK or HttpStatusCode.Conflict, status.ToString()));
        Assert.Contains(HttpStatusCode.OK, pressed);
        Assert.Equal((1, 0), await CountAsync(service));
        await using var store = service.Store();
        Assert.Single(await store.MailDeeds.ToListAsync());
    }

    [Fact]
    public async Task Somebody_elses_deed_settles_it_and_is_named()
    {
        await using var service = await TestService.StartAsync();
        var ana = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane);
        var ben = await service.JoinAsync(Role.FarmHand, "Ben Field", service.Invented.AlderLane);
        var notice = await service.WaterAsync();
        using var phone = service.Browser(null);
        var other = await phone.OpenAsync(service.Link(Deed.Watered, notice, ben.PersonId));
        using (await phone.SubmitAsync((await phone.OpenAsync(service.Link(Deed.Watered, notice, ana.PersonId))).QuerySelector("main form")!))
        using (var late = await phone.SubmitAsync(other.QuerySelector("main form")!))
        {
            Assert.Equal(HttpStatusCode.Conflict, late.StatusCode);
            var said = await HtmlPage.ReadAsync(late);
            Assert.Contains("Ana Field has written the same down", said.QuerySelector("main")!.Read(), StringComparison.Ordinal);
            Assert.Empty(said.QuerySelectorAll("main form"));
        }

        Assert.Equal((1, 0), await CountAsync(service));
    }

    [Theory]
    [InlineData(NoticeEnd.Withdrawn, ClosingCode.ForecastChanged)]
    [InlineData(NoticeEnd.Lapsed, ClosingCode.DayPassed)]
    [InlineData(NoticeEnd.Done, ClosingCode.Watered)]
    public async Task A_notice_that_has_ended_says_how_and_takes_nothing(NoticeEnd how, ClosingCode why)
    {
        await using var service = await TestService.StartAsync();
        var notice = await service.WaterAsync();
        var link = service.Link(Deed.Watered, notice, service.Coordinator.PersonId);
        using var phone = service.Browser(null);
        var before = await phone.OpenAsync(link);
        await using (var store = service.Store())
        {
            Service.Notices.NoticeRows.Close(await store.Notices.SingleAsync(row => row.Id == notice), new NoticeClosed(NoticeKind.Water, notice, how, why), InventedCooperative.Today, InventedCooperative.Now);
            await store.SaveChangesAsync();
        }

        using var pressed = await phone.SubmitAsync(before.QuerySelector("main form")!);
        Assert.Equal(HttpStatusCode.Conflict, pressed.StatusCode);
        var page = await HtmlPage.ReadAsync(pressed);
        Assert.Contains(Service.Text.Words.For("en").Closing(how, why), page.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.Empty(page.QuerySelectorAll("main form"));
        Assert.Equal((0, 0), await CountAsync(service));
    }

    [Fact]
    public async Task Covers_and_pins_are_written_down_and_pins_come_with_the_words_on_eating()
    {
        await using var service = await TestService.StartAsync();
        var invented = service.Invented;
        var me = service.Coordinator.PersonId;
        using var phone = service.Browser(null);
        var heat = await service.OpenAsync(invented.MillField, invented.Young, new NoticeDraft(
            NoticeKind.HeatAhead, InventedCooperative.Today, InventedCooperative.Today, NoticeConfidence.Likely,
            NoticeReason.Of(ReasonCode.HeatOnYoungSpawn, (ReasonNumber.Tmax, 31), (ReasonNumber.HeatMark, 30), (ReasonNumber.LeadDays, 1))));
        using (var on = await phone.SubmitAsync((await phone.OpenAsync(service.Link(Deed.CoverOn, heat, me))).QuerySelector("main form")!))
            Assert.Equal("The cover is on", (await HtmlPage.ReadAsync(on)).QuerySelector("h1")!.TextContent);
        var off = await service.OpenAsync(invented.MillField, invented.Young, new NoticeDraft(
            NoticeKind.CoverOff, InventedCooperative.Today, InventedCooperative.Today, NoticeConfidence.Likely, NoticeReason.Of(ReasonCode.ReadyToPin)));
        using (var taken = await phone.SubmitAsync((await phone.OpenAsync(service.Link(Deed.CoverOff, off, me))).QuerySelector("main form")!))
            Assert.Equal("The cover is off", (await HtmlPage.ReadAsync(taken)).QuerySelector("h1")!.TextContent);

        var pins = await phone.OpenAsync(service.Link(Deed.PinsSeen, await service.NoticeAsync(invented.Hazels, NoticeKind.ExpectPins), me));
        var said = pins.QuerySelector("main")!.Read();
        var species = Model.Catalogue.BedCatalogue.BuiltIn.Species["wood-blewit"];
        Assert.All(Service.Text.Words.For("en").EatingCaution(species), sentence => Assert.Contains(sentence, pins.QuerySelector("main")!.TextContent, StringComparison.Ordinal));
        Assert.Contains(Service.Text.Words.For("en").CheckLookalikes(species), said, StringComparison.Ordinal);
        using (var seen = await phone.SubmitAsync(pins.QuerySelector("main form")!))
            Assert.Contains(Service.Text.Words.For("en").CheckLookalikes(species), (await HtmlPage.ReadAsync(seen)).QuerySelector("main")!.Read(), StringComparison.Ordinal);

        await using var store = service.Store();
        var made = await store.LogEntries.Where(row => row.RecordedBy == Recorders.Of(me)).OrderBy(row => row.Id).Select(row => new { row.Kind, row.Text }).ToListAsync();
        Assert.Equal([("cover", "sheet"), ("cover", "none"), ("pins", null)], made.Select(row => (row.Kind, row.Text)));
    }

    [Fact]
    public async Task Put_off_it_makes_no_entry_and_the_round_can_ask_until_when()
    {
        await using var service = await TestService.StartAsync();
        var viewer = await service.JoinAsync(Role.Viewer, "Vera Reads", service.Invented.AlderLane);
        var notice = await service.WaterAsync();
        var link = service.Link(Deed.Snooze, notice, viewer.PersonId);
        using var phone = service.Browser(null);
        var page = await phone.OpenAsync(link);
        Assert.Equal(["1", "3", "7"], page.QuerySelectorAll("main input[type=radio]").Select(choice => choice.GetAttribute("value")));
        using (var none = await phone.SubmitAsync(page.QuerySelector("main form")!))
            Assert.Equal(HttpStatusCode.UnprocessableEntity, none.StatusCode);
        using (var strange = await phone.SubmitAsync(page.QuerySelector("main form")!, ("days", "3650")))
            Assert.Equal(HttpStatusCode.UnprocessableEntity, strange.StatusCode);
        using var put = await phone.SubmitAsync(page.QuerySelector("main form")!, ("days", "3"));
        var done = await HtmlPage.ReadAsync(put);
        Assert.Contains("You are told again on Saturday", done.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.Equal((0, 0), await CountAsync(service));
        await using var store = service.Store();
        long[] people = [viewer.PersonId, service.Coordinator.PersonId];
        var put1 = await Snoozes.OfAsync(store, people, CancellationToken.None);
        Assert.Equal(InventedCooperative.Today.PlusDays(3), Assert.Single(put1[(viewer.PersonId, notice)]).Until);
        Assert.Empty(put1[(service.Coordinator.PersonId, notice)]);
        using var undone = await phone.SubmitAsync(done.QuerySelector("main form")!);
        Assert.Empty(await Snoozes.OfAsync(store, people, CancellationToken.None));
    }

    [Fact]
    public async Task It_speaks_the_language_and_units_of_whose_mail_it_was()
    {
        await using var service = await TestService.StartAsync();
        await service.ChangeAsync(service.Coordinator.PersonId, row => (row.Language, row.Units) = ("es", Units.UsCustomary));
        var notice = await service.WaterAsync();
        // A name that means harm stays a name (test 30).
        await using (var store = service.Store())
        {
            (await store.Beds.SingleAsync(row => row.Id == service.Invented.Hazels)).Name = "<script>alert(1)</script>\u202Eleft\" onload=\"x";
            await store.SaveChangesAsync();
        }

        using var phone = service.Browser(null);
        phone.DefaultRequestHeaders.AcceptLanguage.ParseAdd("en");
        phone.Speak("en");
        var page = await phone.OpenAsync(service.Link(Deed.Watered, notice, service.Coordinator.PersonId));
        Assert.Equal("es", page.DocumentElement.GetAttribute("lang"));
        Assert.Equal("¿La has regado?", page.QuerySelector("h1")!.TextContent);
        Assert.Contains("6,6\u00a0galones", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
        Assert.Empty(page.QuerySelectorAll("script, [onload]"));
        Assert.Contains("<script>alert(1)</script>", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain("\u202E", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Changed_since_the_mail_it_says_so_and_changed_while_looking_it_asks_again()
    {
        await using var service = await TestService.StartAsync();
        var notice = await service.WaterAsync();
        var link = service.Link(Deed.Watered, notice, service.Coordinator.PersonId);
        using var phone = service.Browser(null);
        var first = await phone.OpenAsync(link);
        Assert.DoesNotContain("It has changed since", first.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        await using (var store = service.Store())
        {
            var row = await store.Notices.SingleAsync(one => one.Id == notice);
            (row.Amount, row.Revisions) = (40, 1);
            await store.SaveChangesAsync();
        }

        using var pressed = await phone.SubmitAsync(first.QuerySelector("main form")!);
        Assert.Equal(HttpStatusCode.Conflict, pressed.StatusCode);
        Assert.Equal((0, 0), await CountAsync(service));
        var again = await HtmlPage.ReadAsync(pressed);
        Assert.Contains("Watered: 40 litres", again.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.Contains("It has changed since", again.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        using var done = await phone.SubmitAsync(again.QuerySelector("main form")!);
        Assert.Equal(HttpStatusCode.OK, done.StatusCode);
        Assert.Equal((1, 0), await CountAsync(service));
    }

    [Fact]
    public async Task After_three_days_it_does_nothing_and_shows_what_it_did()
    {
        await using var service = await TestService.StartAsync();
        var me = service.Coordinator.PersonId;
        var (used, unused) = (service.Link(Deed.Watered, await service.WaterAsync(), me), service.Link(Deed.PinsSeen, await service.NoticeAsync(service.Invented.Hazels, NoticeKind.ExpectPins), me));
        using var phone = service.Browser(null);
        var form = (await phone.OpenAsync(unused)).QuerySelector("main form")!;
        using (await phone.SubmitAsync((await phone.OpenAsync(used)).QuerySelector("main form")!))
            ((FakeClock)service.Services.GetRequiredService<IClock>()).Advance(DeedLinks.For);
        using var late = await phone.SubmitAsync(form);
        Assert.Equal(HttpStatusCode.Gone, late.StatusCode);
        Assert.Equal("This link is too old", (await HtmlPage.ReadAsync(late)).QuerySelector("h1")!.TextContent);
        var shown = await phone.OpenAsync(used);
        Assert.Equal("Watered", shown.QuerySelector("h1")!.TextContent);
        Assert.Empty(shown.QuerySelectorAll("main form"));
        Assert.Equal((1, 0), await CountAsync(service));
    }

    /// <summary>Entries of watering and pins under the hazels: those that count, and those undone.</summary>
    internal static async Task<(int Count, int Undone)> CountAsync(TestService service)
    {
        await using var store = service.Store();
        var made = await store.LogEntries.Where(row => row.BedId == service.Invented.Hazels && (row.Kind == LogKinds.Watered || row.Kind == LogKinds.Pins)).ToListAsync();
        return (made.Count(row => row.UndoneAt is null), made.Count(row => row.UndoneAt is not null));
    }
}
