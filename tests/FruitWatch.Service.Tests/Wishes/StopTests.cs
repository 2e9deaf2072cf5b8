using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Wishes;

/// <summary>Unsubscribing with one click (RFC 8058), and the page for those who click the link itself.</summary>
public sealed class StopTests(OneService running) : IClassFixture<OneService>
{
    private static int s_people;

    private TestService Service => running.Service;

    /// <summary>RFC 8058 sections 3.1 and 8: a POST of one pair, no cookie, no redirect; in both forms of a form (section 3.2).</summary>
    [Theory]
    [InlineData("application/x-www-form-urlencoded", "List-Unsubscribe=One-Click")]
    [InlineData("multipart/form-data; boundary=---FormBoundaryjWmhtjORrn", "-----FormBoundaryjWmhtjORrn\r\nContent-Disposition: form-data; name=\"List-Unsubscribe\"\r\n\r\nOne-Click\r\n-----FormBoundaryjWmhtjORrn--\r\n")]
    public async Task One_click_ends_it_at_once_and_as_often_as_it_is_sent(string type, string body)
    {
        var person = await PersonAsync();
        for (var i = 0; i < 3; i++)
            Assert.StartsWith("HTTP/1.1 200 OK", await PostAsync(Link(person, StopTopic.Digest), type, body), StringComparison.Ordinal);
        Assert.Equal((DigestWish.Never, UrgentWish.InWakingHours), await WishesAsync(person));
        Assert.StartsWith("HTTP/1.1 200 OK", await PostAsync(Link(person, StopTopic.Urgent), type, body), StringComparison.Ordinal);
        Assert.Equal((DigestWish.Never, UrgentWish.Never), await WishesAsync(person));
        await using var store = Service.Store();
        var lines = await store.Audit.Where(line => line.PersonId == person && line.Action == "person.changed").ToListAsync();
        Assert.Equal(2, lines.Count);
        Assert.All(lines, line => Assert.Equal("mail", line.Via));
    }

    [Theory]
    [InlineData("application/x-www-form-urlencoded", "")]
    [InlineData("application/x-www-form-urlencoded", "List-Unsubscribe=No")]
    [InlineData("text/plain", "List-Unsubscribe=One-Click")]
    [InlineData("application/json", "{\"List-Unsubscribe\":\"One-Click\"}")]
    public async Task Whatever_else_is_posted_ends_nothing(string type, string body)
    {
        var person = await PersonAsync();
        Assert.StartsWith("HTTP/1.1 400 ", await PostAsync(Link(person, StopTopic.Digest), type, body), StringComparison.Ordinal);
        Assert.Equal((DigestWish.EveryMorning, UrgentWish.InWakingHours), await WishesAsync(person));
    }

    /// <summary>The link is followed by programs too: looking changes nothing (RFC 8058, abstract).</summary>
    [Fact]
    public async Task Looking_does_nothing_the_button_ends_it_and_there_is_a_way_back()
    {
        var person = await PersonAsync();
        var link = Link(person, StopTopic.Digest);
        using var browser = Service.Browser(null);
        await browser.OpenAsync(link);
        var before = await Service.PrintAsync();
        for (var i = 0; i < 10; i++)
        {
            using var seen = await browser.SendAsync(new HttpRequestMessage(i % 2 == 0 ? HttpMethod.Get : HttpMethod.Head, link));
            Assert.Equal(HttpStatusCode.OK, seen.StatusCode);
            Assert.Equal(("no-store", "no-referrer", "noindex"), (seen.Headers.CacheControl!.NoStore ? "no-store" : "", Assert.Single(seen.Headers.GetValues("Referrer-Policy")), Assert.Single(seen.Headers.GetValues("X-Robots-Tag"))));
        }

        Assert.Equal(before, await Service.PrintAsync());
        var page = await browser.OpenAsync(link);
        Assert.Equal("Stop the morning mail?", page.QuerySelector("h1")!.TextContent);
        using var stopped = await browser.SubmitAsync(page.QuerySelector("main form")!);
        Assert.Equal(HttpStatusCode.OK, stopped.StatusCode);
        Assert.Equal(DigestWish.Never, (await WishesAsync(person)).Digests);
        var after = await HtmlPage.ReadAsync(stopped);
        Assert.Equal("The morning mail is stopped", after.QuerySelector("h1")!.TextContent);

        using (var without = await browser.PostAsync($"{link}?handler=start", new FormUrlEncodedContent([])))
            Assert.Equal(HttpStatusCode.BadRequest, without.StatusCode);
        Assert.Equal(DigestWish.Never, (await WishesAsync(person)).Digests);
        using (var started = await browser.SubmitAsync(after.QuerySelector("main form[action$='handler=start']")!))
            Assert.Contains("comes again", (await HtmlPage.ReadAsync(started)).QuerySelector("main")!.Read(), StringComparison.Ordinal);
        Assert.Equal(DigestWish.EveryMorning, (await WishesAsync(person)).Digests);
    }

    /// <summary>A mail may have been passed on: whoever holds it can leave its reader alone and take that back, but have them told no more than before.</summary>
    [Fact]
    public async Task A_link_starts_again_what_it_stopped_as_it_was_and_chooses_nothing_more()
    {
        var person = await PersonAsync();
        await Service.ChangeAsync(person, row => (row.Digests, row.KindsLeftOut) = (DigestWish.WhenThereIsNews, "spent"));
        var link = Link(person, StopTopic.Digest);
        using var browser = Service.Browser(null);
        using var stopped = await browser.SubmitAsync((await browser.OpenAsync(link)).QuerySelector("main form")!);
        var page = await HtmlPage.ReadAsync(stopped);
        var form = page.QuerySelector("form.ask")!;
        Assert.Equal(["when-there-is-news", "never"], form.QuerySelectorAll("input[name=digests]").Select(one => one.GetAttribute("value")));
        Assert.Equal(["in-waking-hours", "never"], form.QuerySelectorAll("input[name=urgent]").Select(one => one.GetAttribute("value")));
        Assert.DoesNotContain("spent", form.QuerySelectorAll("input[name=kinds]").Select(one => one.GetAttribute("value")));
        var token = form.QuerySelector("input[name=form-token]")!.GetAttribute("value")!;
        foreach (var (digests, urgent) in new[] { ("every-morning", "never"), ("never", "at-any-hour") })
        {
            using var more = await browser.PostAsync(form.GetAttribute("action"), new FormUrlEncodedContent(
                [new("form-token", token), new("digests", digests), new("urgent", urgent), new("kinds", "spent"), new("kinds", "water")]));
            Assert.Equal(HttpStatusCode.BadRequest, more.StatusCode);
        }

        Assert.Equal((DigestWish.Never, UrgentWish.InWakingHours), await WishesAsync(person));
        using (var less = await browser.PostAsync(form.GetAttribute("action"), new FormUrlEncodedContent(
            [new("form-token", token), new("digests", "never"), new("urgent", "never"), new("kinds", "spent"), new("kinds", "water")])))
            Assert.Equal(HttpStatusCode.OK, less.StatusCode);
        await using (var store = Service.Store())
            Assert.Contains("spent", (await store.People.SingleAsync(row => row.Id == person)).KindsLeftOut, StringComparison.Ordinal);
        using (await browser.SubmitAsync(page.QuerySelector("main form[action$='handler=start']")!))
            Assert.Equal((DigestWish.WhenThereIsNews, UrgentWish.Never), await WishesAsync(person));
        using (await browser.SubmitAsync((await browser.OpenAsync(Link(person, StopTopic.Urgent))).QuerySelector("main form[action$='handler=start']")!))
            Assert.Equal((DigestWish.WhenThereIsNews, UrgentWish.InWakingHours), await WishesAsync(person));
    }

    [Fact]
    public async Task What_somebody_stopped_themselves_no_link_starts_again()
    {
        var member = await Service.JoinAsync(Role.Viewer, "Stops Herself", Service.Invented.AlderLane);
        var link = Link(member.PersonId, StopTopic.Urgent);
        Assert.StartsWith("HTTP/1.1 200 OK", await PostAsync(link, "application/x-www-form-urlencoded", "List-Unsubscribe=One-Click"), StringComparison.Ordinal);
        using (var own = Service.Client(member))
        {
            foreach (var urgent in new[] { "at-any-hour", "never" })
            {
                using var change = new HttpRequestMessage(HttpMethod.Put, "/api/v1/me/wishes") { Content = new StringContent($$"""{"urgent":"{{urgent}}"}""", Encoding.UTF8, "application/json") };
                change.Headers.TryAddWithoutValidation("If-Match", "*");
                using var changed = await own.SendAsync(change);
                Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
            }
        }

        using var browser = Service.Browser(null);
        var page = await browser.OpenAsync(link);
        Assert.Null(page.QuerySelector("main form[action$='handler=start']"));
        var token = page.QuerySelector("form.ask input[name=form-token]")!.GetAttribute("value")!;
        using (await browser.PostAsync($"{link}?handler=start", new FormUrlEncodedContent([new("form-token", token)])))
            Assert.Equal(UrgentWish.Never, (await WishesAsync(member.PersonId)).Urgent);
    }

    /// <summary>The words beside the button promise no mail that does not come.</summary>
    [Theory]
    [InlineData(StopTopic.Digest, false, "Urgent notices still come")]
    [InlineData(StopTopic.Digest, true, "urgent mails are stopped too")]
    [InlineData(StopTopic.Urgent, false, "in the next morning mail only")]
    [InlineData(StopTopic.Urgent, true, "the morning mail is stopped too")]
    internal async Task What_is_left_is_said_as_it_is(StopTopic topic, bool otherStopped, string said)
    {
        var person = await PersonAsync();
        if (otherStopped)
            await Service.ChangeAsync(person, row => (row.Digests, row.Urgent) = topic == StopTopic.Digest ? (row.Digests, UrgentWish.Never) : (DigestWish.Never, row.Urgent));
        using var browser = Service.Browser(null);
        Assert.Contains(said, (await browser.OpenAsync(Link(person, topic))).QuerySelector("main")!.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_rest_is_offered_once_it_has_ended()
    {
        var person = await PersonAsync();
        var link = Link(person, StopTopic.Urgent);
        using var browser = Service.Browser(null);
        using var stopped = await browser.SubmitAsync((await browser.OpenAsync(link)).QuerySelector("main form")!);
        var form = (await HtmlPage.ReadAsync(stopped)).QuerySelector("form.ask")!;
        var token = form.QuerySelector("input[name=form-token]")!.GetAttribute("value")!;
        using var saved = await browser.PostAsync(form.GetAttribute("action"), new FormUrlEncodedContent(
            [new("form-token", token), new("digests", "when-there-is-news"), new("urgent", "never"), new("kinds", "water"), new("kinds", "frost-ahead")]));
        Assert.Equal(HttpStatusCode.OK, saved.StatusCode);
        await using var store = Service.Store();
        var row = await store.People.SingleAsync(one => one.Id == person);
        Assert.Equal((DigestWish.WhenThereIsNews, UrgentWish.Never), (row.Digests, row.Urgent));
        Assert.Equal("hold-water cover-on cover-off heat-ahead expect-pins expect-harvest weekly-check yearly-feeding spent storm-ahead", row.KindsLeftOut);
        using var strange = await browser.PostAsync(form.GetAttribute("action"), new FormUrlEncodedContent([new("form-token", token), new("digests", "hourly"), new("urgent", "never")]));
        Assert.Equal(HttpStatusCode.BadRequest, strange.StatusCode);
    }

    /// <summary>Of beds as of kinds: a link takes ticks away, and gives none.</summary>
    [Theory]
    [InlineData("en", "Beds that you are told of", "told of all")]
    [InlineData("es", "Camas de las que se te avisa", "se te avisa de todas")]
    public async Task Beds_that_they_see_and_are_told_of_can_be_left_out_and_no_link_brings_one_back(string language, string legend, string all)
    {
        var invented = Service.Invented;
        var person = (await Service.JoinAsync(Role.Viewer, $"Stop Beds {language}", invented.AlderLane)).PersonId;
        await Service.ChangeAsync(person, row => row.Language = language);
        var link = Link(person, StopTopic.Digest);
        using var browser = Service.Browser(null);
        // Beside the button, without stopping anything; beds of other sites are not named.
        var form = (await browser.OpenAsync(link)).QuerySelector("details.less form.ask")!;
        Assert.Contains(legend, form.Read(), StringComparison.Ordinal);
        Assert.Contains(all, form.Read(), StringComparison.Ordinal);
        Assert.Equal(["Straw ring", "Under the hazels"], form.QuerySelectorAll("input[name=beds]").Select(box => box.ParentElement!.Read()));
        Assert.All(form.QuerySelectorAll("input[name=beds]"), box => Assert.True(box.HasAttribute("checked")));
        var token = form.QuerySelector("input[name=form-token]")!.GetAttribute("value")!;
        var shown = form.QuerySelector("input[name=bedsShown]")!.GetAttribute("value")!;

        var before = (await PersonAsync(person)).Version;
        var saved = await ChooseAsync(shown, invented.Hazels);
        Assert.Equal(["Under the hazels"], saved.QuerySelectorAll("input[name=beds]").Select(box => box.ParentElement!.Read()));
        Assert.Equal([invented.Straw], await LeftOutAsync());
        Assert.Equal(before + 1, (await PersonAsync(person)).Version);
        // The old page once more, and one that names beds that are not theirs to choose.
        await ChooseAsync(shown, invented.Straw, invented.Hazels);
        await ChooseAsync($"{invented.Young} 987654321 x", invented.Straw, invented.Hazels);
        Assert.Equal([invented.Straw], await LeftOutAsync());
        // A form that shows no beds says nothing of them.
        await ChooseAsync("");
        Assert.Equal([invented.Straw], await LeftOutAsync());
        await using (var store = Service.Store())
        {
            var line = await store.Audit.SingleAsync(one => one.PersonId == person && one.Action == "person-bed-left-out.made");
            Assert.Equal(("mail", $"{person}/{invented.Straw}"), (line.Via, line.SubjectId));
        }

        // Whoever is let in no more sees no names, and can still be left alone.
        await Service.ChangeAsync(person, row => row.Active = false);
        Assert.Empty((await browser.OpenAsync(link)).QuerySelectorAll("input[name=beds]"));

        async Task<AngleSharp.Dom.IDocument> ChooseAsync(string shownBeds, params long[] ticked)
        {
            using var answer = await browser.PostAsync($"{link}?handler=choose", new FormUrlEncodedContent(
            [
                new("form-token", token), new("digests", "every-morning"), new("urgent", "in-waking-hours"), new("bedsShown", shownBeds),
                .. ticked.Select(bed => KeyValuePair.Create("beds", bed.ToString(CultureInfo.InvariantCulture))),
            ]));
            Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
            return await HtmlPage.ReadAsync(answer);
        }

        async Task<List<long>> LeftOutAsync()
        {
            await using var store = Service.Store();
            return await store.PersonBedsLeftOut.Where(row => row.PersonId == person).Select(row => row.BedId).ToListAsync();
        }
    }

    [Fact]
    public async Task A_grower_who_sees_own_beds_only_is_shown_no_other()
    {
        var grower = await PersonAsync();
        await using (var store = Service.Store())
        {
            store.BedGrowers.Add(new BedGrower { BedId = Service.Invented.Hazels, PersonId = grower });
            await store.SaveChangesAsync();
        }

        using var browser = Service.Browser(null);
        var boxes = (await browser.OpenAsync(Link(grower, StopTopic.Digest))).QuerySelectorAll("input[name=beds]");
        Assert.Equal("Under the hazels", Assert.Single(boxes).ParentElement!.Read());
    }

    [Fact]
    public async Task It_works_for_somebody_who_is_not_let_in_and_is_unknown_when_altered()
    {
        var person = await PersonAsync();
        await Service.ChangeAsync(person, row => (row.Active, row.Language) = (false, "es"));
        var link = Link(person, StopTopic.Digest);
        Assert.StartsWith("HTTP/1.1 200 OK", await PostAsync(link, "application/x-www-form-urlencoded", "List-Unsubscribe=One-Click"), StringComparison.Ordinal);
        Assert.Equal(DigestWish.Never, (await WishesAsync(person)).Digests);
        using var browser = Service.Browser(null);
        Assert.Equal("es", (await browser.OpenAsync(link)).DocumentElement.GetAttribute("lang"));
        foreach (var strange in new[] { link[..^1] + (link[^1] == 'A' ? 'B' : 'A'), "/stop/unknown", Link(987654321, StopTopic.Digest), Service.Link(Deed.Watered, 1, person).Replace("/do/", "/stop/", StringComparison.Ordinal) })
        {
            Assert.StartsWith("HTTP/1.1 410 ", await PostAsync(strange, "application/x-www-form-urlencoded", "List-Unsubscribe=One-Click"), StringComparison.Ordinal);
            Assert.Equal("This link is not known", (await browser.OpenAsync(strange)).QuerySelector("h1")!.TextContent);
        }
    }

    private string Link(long person, StopTopic topic) =>
        new Uri(Service.Services.GetRequiredService<StopLinks>().AddressOf(new StopLink(person, topic))).AbsolutePath;

    private async Task<long> PersonAsync() =>
        (await Service.JoinAsync(Role.Grower, string.Create(CultureInfo.InvariantCulture, $"Stop {Interlocked.Increment(ref s_people)}"), Service.Invented.AlderLane)).PersonId;

    private async Task<Person> PersonAsync(long id)
    {
        await using var store = Service.Store();
        return await store.People.SingleAsync(row => row.Id == id);
    }

    private async Task<(DigestWish Digests, UrgentWish Urgent)> WishesAsync(long person)
    {
        await using var store = Service.Store();
        var row = await store.People.SingleAsync(one => one.Id == person);
        return (row.Digests, row.Urgent);
    }

    /// <summary>To the byte as the RFC shows it, with no more header fields than it takes.</summary>
    private async Task<string> PostAsync(string path, string type, string body)
    {
        using var socket = new TcpClient();
        await socket.ConnectAsync(Service.Address.Host, Service.Address.Port);
        await using var stream = socket.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(
            $"POST {path} HTTP/1.1\r\nHost: {Service.Address.Authority}\r\nContent-Type: {type}\r\nContent-Length: {body.Length}\r\nConnection: close\r\n\r\n{body}"));
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return await reader.ReadToEndAsync();
    }
}
