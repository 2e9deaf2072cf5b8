using System.Net;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Tests.Wishes;

/// <summary>What members are told, on their own page.</summary>
public sealed class WishesPageTests
{
    [Fact]
    public async Task A_member_chooses_what_they_are_told_and_who_stands_in()
    {
        await using var service = await TestService.StartAsync();
        var invented = service.Invented;
        var grower = await service.JoinAsync(Role.Grower, "Gil Grows", invented.AlderLane);
        await using (var store = service.Store())
        {
            store.BedGrowers.Add(new BedGrower { BedId = invented.Hazels, PersonId = grower.PersonId });
            (await store.Cooperatives.SingleAsync(row => row.Id == invented.Cooperative)).GrowersReadAll = true;
            await store.SaveChangesAsync();
        }

        using var browser = service.Browser(grower);
        Assert.Contains("/account/mail", (await browser.OpenAsync("/account")).QuerySelectorAll("main a").Select(link => link.GetAttribute("href")));
        var page = await browser.OpenAsync("/account/mail");
        var lane = page.QuerySelector($"input[name=siteIds][value='{invented.AlderLane}']")!;
        Assert.True(lane.HasAttribute("checked") && lane.HasAttribute("disabled"));
        Assert.False(page.QuerySelector($"input[name=siteIds][value='{invented.MillField}']")!.HasAttribute("disabled"));
        Assert.DoesNotContain("Gil Grows", page.QuerySelector("#deputyId")!.TextContent, StringComparison.Ordinal);

        using var saved = await PostAsync(browser, page,
            ("digests", "when-there-is-news"), ("urgent", "at-any-hour"), ("kinds", "water"), ("kinds", "expect-pins"), ("siteIds", Text(invented.MillField)),
            ("awayFrom", "2026-10-20"), ("awayUntil", "2026-10-30"), ("deputyId", Text(service.Coordinator.PersonId)));
        Assert.Contains("Saved", (await HtmlPage.ReadAsync(saved)).QuerySelector(".done")!.TextContent, StringComparison.Ordinal);
        await using (var store = service.Store())
        {
            var row = await store.People.Include(one => one.Sites).Include(one => one.Beds).SingleAsync(one => one.Id == grower.PersonId);
            Assert.Equal((DigestWish.WhenThereIsNews, UrgentWish.AtAnyHour, service.Coordinator.PersonId), (row.Digests, row.Urgent, row.DeputyId));
            Assert.Equal("hold-water cover-on cover-off frost-ahead heat-ahead expect-harvest weekly-check yearly-feeding spent storm-ahead", row.KindsLeftOut);
            // The site of an own bed stays, whatever a form says.
            Assert.Equal(new[] { invented.AlderLane, invented.MillField }.Order(), row.Sites.Select(told => told.SiteId).Order());
            Assert.Equal(invented.Hazels, Assert.Single(row.Beds).BedId);
        }

        // Opened before, it is not saved over what was saved since.
        using var outdated = await PostAsync(browser, page, ("digests", "never"), ("urgent", "never"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, outdated.StatusCode);
    }

    /// <summary>Ticked is told of. A bed that came after the page was opened is told of, too.</summary>
    [Theory]
    [InlineData("en", "Beds of Alder Lane: told of all", "Beds of Alder Lane: told of 1 of 2")]
    [InlineData("es", "Camas de Alder Lane: se te avisa de todas", "Camas de Alder Lane: se te avisa de 1 de 2")]
    public async Task Beds_without_a_tick_are_left_out_until_it_is_back(string language, string all, string some)
    {
        await using var service = await TestService.StartAsync();
        var invented = service.Invented;
        var viewer = await service.JoinAsync(Role.Viewer, "Vera Reads", invented.AlderLane);
        await service.ChangeAsync(viewer.PersonId, row => row.Language = language);
        using var browser = service.Browser(viewer);
        var page = await browser.OpenAsync("/account/mail");
        // Of sites that they are not told about there is nothing to choose.
        Assert.Equal(["Straw ring", "Under the hazels"], page.QuerySelectorAll("input[name=beds]").Select(box => box.ParentElement!.Read()));
        Assert.Equal(all, page.QuerySelector("details.ticks summary")!.Read());
        await using (var store = service.Store())
        {
            store.Beds.Add(new Bed { SiteId = invented.AlderLane, Name = "Came later", SpeciesKey = "wine-cap", Area = 1, InoculatedOn = InventedCooperative.Today });
            (await store.Beds.SingleAsync(bed => bed.Id == invented.Straw)).RetiredOn = InventedCooperative.Today;
            await store.SaveChangesAsync();
        }

        using (var saved = await PostAsync(browser, page, ("digests", "every-morning"), ("urgent", "never"), ("siteIds", Text(invented.AlderLane)), ("beds", Text(invented.Straw))))
            page = await HtmlPage.ReadAsync(saved);
        Assert.Equal([invented.Hazels], await LeftOutAsync());
        Assert.Equal(some, page.QuerySelector("details.ticks[open] summary")!.Read());
        Assert.Equal([("Came later", true), ("Under the hazels", false)], page.QuerySelectorAll("input[name=beds]").Select(box => (box.ParentElement!.Read(), box.HasAttribute("checked"))));

        // One that is not theirs to see is refused at its field, and what was ticked stands there still.
        using (var refused = await PostAsync(browser, page, ("digests", "every-morning"), ("urgent", "never"), ("bedsShown", "987654321"), ("beds", Text(invented.Hazels))))
        {
            Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
            var again = await HtmlPage.ReadAsync(refused);
            Assert.NotNull(again.QuerySelector("#bedsLeftOut.error"));
            Assert.NotNull(again.QuerySelector(".errors a[href='#bedsLeftOut']"));
            Assert.True(again.QuerySelector($"input[name=beds][value='{invented.Hazels}']")!.HasAttribute("checked"));
        }

        // What does not stand in the form, as a bed that was given up, stays as it is.
        await using (var store = service.Store())
        {
            store.PersonBedsLeftOut.Add(new PersonBedLeftOut { PersonId = viewer.PersonId, BedId = invented.Straw });
            await store.SaveChangesAsync();
        }

        using (await PostAsync(browser, page, ("digests", "every-morning"), ("urgent", "never"), ("siteIds", Text(invented.AlderLane)), ("beds", Text(invented.Hazels)), ("beds", page.QuerySelector("input[name=beds]")!.GetAttribute("value")!)))
            Assert.Equal([invented.Straw], await LeftOutAsync());

        async Task<List<long>> LeftOutAsync()
        {
            await using var store = service.Store();
            return await store.PersonBedsLeftOut.Where(row => row.PersonId == viewer.PersonId).Select(row => row.BedId).ToListAsync();
        }
    }

    [Fact]
    public async Task A_pause_that_cannot_be_is_refused_at_its_field()
    {
        await using var service = await TestService.StartAsync();
        var own = service.Coordinator.PersonId;
        var inactive = (await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane)).PersonId;
        await service.ChangeAsync(inactive, row => row.Active = false);
        var without = (await service.JoinAsync(Role.FarmHand, "Ben Field", service.Invented.AlderLane)).PersonId;
        await service.ChangeAsync(without, row => row.Email = "");
        var far = new Store.Entities.Cooperative { Name = "Far Bank" };
        await using (var store = service.Store())
        {
            store.Add(far);
            await store.SaveChangesAsync();
        }

        var hand = (await service.JoinAsync(Role.FarmHand, "Cam Field", service.Invented.AlderLane)).PersonId;
        var apart = (await service.JoinAsync(Role.Grower, "Gil Grows", service.Invented.AlderLane)).PersonId;
        var elsewhere = (await Member.JoinAsync(service.Services, far.Id, Role.Coordinator, "Stranger There", [])).PersonId;
        (string From, string Until, long? Deputy, string Field)[] refusals =
        [
            ("2026-10-20", "", null, "awayUntil"), ("", "2026-10-20", null, "awayFrom"), ("2026-10-20", "2026-10-19", null, "awayUntil"),
            ("2026-10-20", "2027-10-21", null, "awayUntil"), ("", "", own, "deputyId"), ("2026-10-20", "2026-10-21", own, "deputyId"),
            ("2026-10-20", "2026-10-21", inactive, "deputyId"), ("2026-10-20", "2026-10-21", without, "deputyId"), ("2026-10-20", "2026-10-21", elsewhere, "deputyId"),
            ("2026-10-20", "2026-10-21", hand, "deputyId"), ("2026-10-20", "2026-10-21", apart, "deputyId"),
        ];
        using var browser = service.Browser();
        var page = await browser.OpenAsync("/account/mail");
        foreach (var (from, until, deputy, field) in refusals)
        {
            using var refused = await PostAsync(
                browser, page, ("digests", "never"), ("urgent", "never"), ("awayFrom", from), ("awayUntil", until), ("deputyId", deputy is { } key ? Text(key) : ""));
            Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
            Assert.True((await HtmlPage.ReadAsync(refused)).QuerySelector($"#{field}-error") is not null, $"{from} {until} {deputy}: {field}");
        }

        await using var kept = service.Store();
        Assert.Equal(DigestWish.EveryMorning, (await kept.People.SingleAsync(row => row.Id == own)).Digests);
    }

    /// <summary>Whoever is told nothing of it all the same is no choice, or stands there with the reason.</summary>
    [Fact]
    public async Task Who_may_see_all_beds_can_stand_in_and_what_is_doubtful_about_them_is_said()
    {
        await using var service = await TestService.StartAsync();
        var viewer = (await service.JoinAsync(Role.Viewer, "Vera Reads", service.Invented.AlderLane)).PersonId;
        await service.JoinAsync(Role.FarmHand, "Cam Field", service.Invented.AlderLane);
        await service.JoinAsync(Role.Grower, "Gil Grows", service.Invented.AlderLane);
        await service.ChangeAsync(viewer, row => (row.MailPausedAt, row.Digests, row.AwayFrom, row.AwayUntil) =
            (InventedCooperative.Now, DigestWish.Never, new NodaTime.LocalDate(2026, 10, 1), new NodaTime.LocalDate(2026, 10, 14)));
        using var browser = service.Browser();
        var page = await browser.OpenAsync("/account/mail");
        Assert.Equal(["nobody", "Vera Reads (Viewer; mail to them comes back; gets no morning mail; has a pause too)"], page.QuerySelectorAll("#deputyId option").Select(one => one.TextContent.Trim()));
        using var saved = await PostAsync(
            browser, page, ("digests", "every-morning"), ("urgent", "never"), ("awayFrom", "2026-10-20"), ("awayUntil", "2026-10-20"), ("deputyId", Text(viewer)));
        Assert.Contains("Vera Reads may not hear of it: mail to them comes back", (await HtmlPage.ReadAsync(saved)).QuerySelector(".warn")!.Read(), StringComparison.Ordinal);

        await using (var store = service.Store())
        {
            (await store.Cooperatives.SingleAsync(row => row.Id == service.Invented.Cooperative)).GrowersReadAll = true;
            await store.SaveChangesAsync();
        }

        Assert.Contains("Gil Grows (Grower)", (await browser.OpenAsync("/account/mail")).QuerySelector("#deputyId")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_sites_are_all_that_somebody_sees_the_coordinator_names_them()
    {
        await using var service = await TestService.StartAsync();
        var hand = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane);
        using var browser = service.Browser(hand);
        var page = await browser.OpenAsync("/account/mail");
        Assert.All(page.QuerySelectorAll("input[name=siteIds]"), box => Assert.True(box.HasAttribute("disabled")));
        using var saved = await PostAsync(browser, page, ("digests", "never"), ("urgent", "never"), ("siteIds", Text(service.Invented.MillField)));
        await using var store = service.Store();
        var row = await store.People.Include(one => one.Sites).SingleAsync(one => one.Id == hand.PersonId);
        Assert.Equal(service.Invented.AlderLane, Assert.Single(row.Sites).SiteId);
    }

    [Fact]
    public async Task A_test_message_is_written_and_stands_in_what_was_sent_with_the_reasons()
    {
        await using var service = await TestService.StartAsync();
        var me = service.Coordinator.PersonId;
        var notice = await service.WaterAsync();
        await using (var store = service.Store())
        {
            var mail = await store.Outbox.SingleAsync(row => row.Id == service.Invented.Mail);
            mail.PersonId = me;
            store.DigestNotices.Add(new DigestNotice { MailId = mail.Id, NoticeId = notice, Role = DigestRole.New });
            await store.SaveChangesAsync();
        }

        using var browser = service.Browser();
        var form = (await browser.OpenAsync("/account/mail")).QuerySelector("form[action='/account/mail/test']")!;
        using var sent = await browser.SubmitAsync(form);
        var page = await HtmlPage.ReadAsync(sent);
        Assert.Contains("is on its way", page.QuerySelector(".done")!.TextContent, StringComparison.Ordinal);
        var told = page.QuerySelectorAll("ol.rows > li").Select(row => row.Read()).ToList();
        Assert.Equal(2, told.Count);
        Assert.Contains("You asked for a test", told[0], StringComparison.Ordinal);
        Assert.Contains("New: Water (Under the hazels)", told[1], StringComparison.Ordinal);
        await using (var store = service.Store())
        {
            var mail = await store.Outbox.OrderByDescending(row => row.Id).FirstAsync();
            Assert.Equal((me, MailState.Pending, "maren.oakhurst@example.org"), (mail.PersonId, mail.State, mail.ToAddress));
            Assert.Contains("/account/mail", mail.TextBody, StringComparison.Ordinal);
        }

        // Twenty an hour at most: it is a mail each time.
        var refused = 0;
        for (var i = 0; i < 21; i++)
        {
            using var again = await browser.SubmitAsync(form);
            refused += again.StatusCode == HttpStatusCode.TooManyRequests ? 1 : 0;
        }

        Assert.True(refused > 0);
    }

    [Fact]
    public async Task An_address_that_mail_came_back_from_is_shown_and_tried_again()
    {
        await using var service = await TestService.StartAsync();
        var ana = await service.JoinAsync(Role.Grower, "Ana Field", service.Invented.AlderLane);
        Task PauseAsync() => service.ChangeAsync(ana.PersonId, row => (row.MailPausedAt, row.MailPausedWhy) = (InventedCooperative.Now, "550 5.1.1 no <such> mailbox"));
        await PauseAsync();
        using var own = service.Browser(ana);
        var page = await own.OpenAsync("/account/mail");
        Assert.Contains("550 5.1.1 no <such> mailbox", page.QuerySelector("main")!.TextContent, StringComparison.Ordinal);
        using (var none = await own.SubmitAsync(page.QuerySelector("form[action='/account/mail/test']")!))
            Assert.Contains("nothing was sent", (await HtmlPage.ReadAsync(none)).QuerySelector(".warn")!.TextContent, StringComparison.Ordinal);
        using (await own.SubmitAsync(page.QuerySelector("form[action$='handler=resume']")!))
            Assert.Null(await PausedAsync());

        await PauseAsync();
        using var coordinator = service.Browser();
        var person = await coordinator.OpenAsync($"/people/{ana.PersonId}");
        using (await coordinator.SubmitAsync(person.QuerySelector("form[action$='handler=resume']")!))
            Assert.Null(await PausedAsync());
        Assert.Null((await coordinator.OpenAsync($"/people/{ana.PersonId}")).QuerySelector("form[action$='handler=resume']"));

        async Task<NodaTime.Instant?> PausedAsync()
        {
            await using var store = service.Store();
            return (await store.People.SingleAsync(row => row.Id == ana.PersonId)).MailPausedAt;
        }
    }

    private static string Text(long key) => key.ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static Task<HttpResponseMessage> PostAsync(HttpClient browser, AngleSharp.Dom.IDocument page, params (string Name, string Value)[] values)
    {
        var form = page.QuerySelector("form.ask")!;
        var hidden = form.QuerySelectorAll("input[type=hidden]").Select(input => (Name: input.GetAttribute("name")!, Value: input.GetAttribute("value")!))
            .Where(input => !values.Any(value => value.Name == input.Name));
        return browser.PostAsync("/account/mail", new FormUrlEncodedContent(hidden.Concat(values).Select(value => KeyValuePair.Create(value.Name, value.Value))));
    }
}
