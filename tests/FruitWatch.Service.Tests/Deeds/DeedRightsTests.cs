using System.Net;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.People;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Deeds;

/// <summary>A link does no more than the person may whose mail it stands in, at the moment when its button is pressed (ASVS 5.0 8.2.2, 8.3.2).</summary>
public sealed class DeedRightsTests
{
    [Fact]
    public async Task Altered_made_up_or_signed_with_lost_keys_it_is_not_known()
    {
        await using var service = await TestService.StartAsync();
        var link = service.Link(Deed.Watered, await service.WaterAsync(), service.Coordinator.PersonId);
        var altered = Enumerable.Range(DeedLinks.Path.Length, link.Length - DeedLinks.Path.Length).Where(at => at % 4 == 0).Select(at => link[..at] + (link[at] == 'A' ? 'B' : 'A') + link[(at + 1)..]);
        foreach (var strange in altered.Append("/do/unknown").Append("/do/" + new string('A', 400)).Append(link + "x"))
            await RefusedAsync(service, strange, HttpStatusCode.Gone, "This link is not known");

        // The store from a backup without the service's keys: links are known no longer, and a new key is drawn.
        await using (var store = service.Store())
        {
            await store.Settings.Where(row => row.Key == "mail.key").ExecuteDeleteAsync();
        }

        var parts = service.Services;
        var key = new MailKey(parts.GetRequiredService<StoreFactory>(), parts.GetRequiredService<IDataProtectionProvider>());
        var fresh = new DeedLinks(key, parts.GetRequiredService<ServiceOptions>());
        Assert.Null(fresh.Read(link[DeedLinks.Path.Length..]));
    }

    [Fact]
    public async Task Of_whom_is_no_member_or_not_let_in_it_does_nothing()
    {
        await using var service = await TestService.StartAsync();
        var notice = await service.WaterAsync();
        var ana = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane);
        var link = service.Link(Deed.Watered, notice, ana.PersonId);
        await service.ChangeAsync(ana.PersonId, row => row.Active = false);
        await RefusedAsync(service, link, HttpStatusCode.Gone, "This link opens nothing now");
        await RefusedAsync(service, service.Link(Deed.Watered, notice, 987654321), HttpStatusCode.Gone, "This link opens nothing now");
    }

    [Fact]
    public async Task At_a_bed_that_was_given_up_it_does_nothing()
    {
        await using var service = await TestService.StartAsync();
        var link = service.Link(Deed.Watered, await service.WaterAsync(), service.Coordinator.PersonId);
        await using (var store = service.Store())
        {
            (await store.Beds.SingleAsync(row => row.Id == service.Invented.Hazels)).RetiredOn = InventedCooperative.Today;
            await store.SaveChangesAsync();
        }

        await RefusedAsync(service, link, HttpStatusCode.Gone, "The bed was given up");
    }

    [Fact]
    public async Task Farm_hands_do_it_at_their_sites_growers_at_their_beds_and_viewers_nowhere()
    {
        await using var service = await TestService.StartAsync();
        var notice = await service.WaterAsync();
        var elsewhere = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.MillField);
        var grower = await service.JoinAsync(Role.Grower, "Gil Grows", service.Invented.AlderLane);
        var viewer = await service.JoinAsync(Role.Viewer, "Vera Reads", service.Invented.AlderLane);
        foreach (var person in new[] { elsewhere, grower, viewer })
            await RefusedAsync(service, service.Link(Deed.Watered, notice, person.PersonId), HttpStatusCode.Forbidden, "Not yours to record");

        // A right that was taken away between looking and pressing is gone.
        await using (var store = service.Store())
        {
            store.BedGrowers.Add(new BedGrower { BedId = service.Invented.Hazels, PersonId = grower.PersonId });
            await store.SaveChangesAsync();
        }

        using var phone = service.Browser(null);
        var link = service.Link(Deed.Watered, notice, grower.PersonId);
        var form = (await phone.OpenAsync(link)).QuerySelector("main form")!;
        await using (var store = service.Store())
            await store.BedGrowers.ExecuteDeleteAsync();
        await RefusedAsync(service, link, HttpStatusCode.Forbidden, "Not yours to record");
        await using (var store = service.Store())
        {
            store.BedGrowers.Add(new BedGrower { BedId = service.Invented.Hazels, PersonId = grower.PersonId });
            await store.SaveChangesAsync();
        }

        using var done = await phone.SubmitAsync(form);
        Assert.Equal(HttpStatusCode.OK, done.StatusCode);
        Assert.Equal((1, 0), await DeedTests.CountAsync(service));
    }

    /// <summary>Even where somebody could sign one, it reaches into no other cooperative (ASVS 5.0 8.4.1).</summary>
    [Theory]
    [InlineData(Deed.Watered)]
    [InlineData(Deed.Snooze)]
    internal async Task A_notice_of_another_cooperative_is_out_of_reach(Deed deed)
    {
        await using var service = await TestService.StartAsync();
        long elsewhere;
        await using (var store = service.Store())
        {
            var far = new Store.Entities.Cooperative { Name = "Far Bank" };
            store.Add(far);
            await store.SaveChangesAsync();
            elsewhere = far.Id;
        }

        var stranger = await Member.JoinAsync(service.Services, elsewhere, Role.Coordinator, "Stranger There", []);
        await RefusedAsync(service, service.Link(deed, await service.WaterAsync(), stranger.PersonId), HttpStatusCode.Forbidden, "Not yours to record");
    }

    /// <summary>Signed in as somebody else, the link is still the one of whose mail it stands in.</summary>
    [Fact]
    public async Task Whoever_presses_it_acts_for_whose_mail_it_was()
    {
        await using var service = await TestService.StartAsync();
        var ana = await service.JoinAsync(Role.FarmHand, "Ana Field", service.Invented.AlderLane);
        using var browser = service.Browser();
        var page = await browser.OpenAsync(service.Link(Deed.Watered, await service.WaterAsync(), ana.PersonId));
        Assert.Contains("Ana Field", page.QuerySelector("main")!.Read(), StringComparison.Ordinal);
        using var done = await browser.SubmitAsync(page.QuerySelector("main form")!);
        await using var store = service.Store();
        var entry = await store.LogEntries.SingleAsync(row => row.BedId == service.Invented.Hazels && row.Kind == "watered");
        Assert.Equal(Recorders.Of(ana.PersonId), entry.RecordedBy);
    }

    [Fact]
    public async Task Without_the_form_of_the_page_nothing_is_written_down()
    {
        await using var service = await TestService.StartAsync();
        var link = service.Link(Deed.Watered, await service.WaterAsync(), service.Coordinator.PersonId);
        using var robot = service.Client(null);
        using var answer = await robot.PostAsync(link, new FormUrlEncodedContent([]));
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal((0, 0), await DeedTests.CountAsync(service));
    }

    private static async Task RefusedAsync(TestService service, string link, HttpStatusCode status, string title)
    {
        using var phone = service.Browser(null);
        using var seen = await phone.GetAsync(link);
        var page = await HtmlPage.ReadAsync(seen);
        Assert.Equal((status, title), (seen.StatusCode, page.QuerySelector("h1")?.TextContent ?? ""));
        Assert.Empty(page.QuerySelectorAll("main form"));
        // Pressed all the same, with a form token of another page.
        var token = (await phone.OpenAsync("/sign-in/forgotten")).QuerySelector("input[name=form-token]")!.GetAttribute("value")!;
        using var pressed = await phone.PostAsync(link, new FormUrlEncodedContent([new("form-token", token), new("days", "1")]));
        Assert.Equal(status, pressed.StatusCode);
        await using var store = service.Store();
        Assert.Empty(await store.MailDeeds.ToListAsync());
        Assert.Equal((0, 0), await DeedTests.CountAsync(service));
    }
}
