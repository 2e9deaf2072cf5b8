using System.Net;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Wishes;

/// <summary>What people are told, in the web API.</summary>
public sealed class WishesApiTests(OneService running) : IClassFixture<OneService>
{
    private TestService Service => running.Service;

    [Fact]
    public async Task Wishes_are_read_and_changed_under_their_version()
    {
        using var api = new ApiClient(Service);
        var now = await api.GetAsync("/api/v1/me/wishes");
        Assert.Equal("every-morning", now.Json.GetProperty("digests").GetString());
        const string Wanted = """{"digests":"never","urgent":"at-any-hour","kindsLeftOut":["weekly-check"],"awayFrom":"2026-12-20","awayUntil":"2027-01-06"}""";
        Assert.Equal((HttpStatusCode)428, (await api.SendAsync("PUT", "/api/v1/me/wishes", Wanted, ("If-Match", ""))).Status);
        var changed = await api.SendAsync("PUT", "/api/v1/me/wishes", Wanted, ("If-Match", now.ETag!));
        Assert.Equal(HttpStatusCode.OK, changed.Status);
        Assert.Equal(("never", "at-any-hour", "2026-12-20", "2027-01-06"), (Read(changed, "digests"), Read(changed, "urgent"), Read(changed, "awayFrom"), Read(changed, "awayUntil")));
        Assert.Equal("weekly-check", Assert.Single(changed.Json.GetProperty("kindsLeftOut").EnumerateArray()).GetString());
        Assert.Equal(HttpStatusCode.PreconditionFailed, (await api.SendAsync("PUT", "/api/v1/me/wishes", Wanted, ("If-Match", now.ETag!))).Status);
        // What is left out goes back to its default, but for the sites.
        var sites = await api.SendAsync("PUT", "/api/v1/me/wishes", $$"""{"siteIds":[{{Service.Invented.MillField}}]}""");
        Assert.Equal(Service.Invented.MillField, Assert.Single(sites.Json.GetProperty("siteIds").EnumerateArray()).GetInt64());
        var back = await api.SendAsync("PUT", "/api/v1/me/wishes", "{}");
        Assert.Equal(("every-morning", 1), (Read(back, "digests"), back.Json.GetProperty("siteIds").GetArrayLength()));
    }

    [Theory]
    [InlineData("""{"digests":"hourly"}""", "digests")]
    [InlineData("""{"kindsLeftOut":["gossip"]}""", "kindsLeftOut")]
    [InlineData("""{"siteIds":[987654321]}""", "siteIds")]
    [InlineData("""{"bedsLeftOut":[987654321]}""", "bedsLeftOut")]
    [InlineData("""{"bedsLeftOut":"all"}""", "bedsLeftOut")]
    [InlineData("""{"awayFrom":"2026-12-20"}""", "awayUntil")]
    [InlineData("""{"awayFrom":"2026-12-20","awayUntil":"9999-12-31"}""", "awayUntil")]
    [InlineData("""{"deputyId":987654321,"awayFrom":"2026-12-20","awayUntil":"2026-12-21"}""", "deputyId")]
    [InlineData("""{"mailPausedAt":null}""", "mailPausedAt")]
    public async Task What_cannot_be_is_refused_at_its_field(string body, string field)
    {
        using var api = new ApiClient(Service);
        var refused = await api.SendAsync("PUT", "/api/v1/me/wishes", body);
        Assert.Equal((HttpStatusCode.BadRequest, field), (refused.Status, Assert.Single(refused.Refused)));
    }

    [Fact]
    public async Task Beds_are_left_out_by_those_who_see_them_and_come_back_where_they_are_not_named()
    {
        var hand = await Service.JoinAsync(Role.FarmHand, "Bea Field", Service.Invented.AlderLane);
        using var http = Service.Client(hand);
        var (straw, hazels) = (Service.Invented.Straw, Service.Invented.Hazels);
        Assert.Equal($"[{straw},{hazels}]", await PutAsync($$"""{"bedsLeftOut":[{{hazels}},{{straw}}]}"""));
        // At Mill Field they see nothing; what they left out before may be named whatever they see now.
        Assert.Equal("refused", await PutAsync($$"""{"bedsLeftOut":[{{straw}},{{Service.Invented.Young}}]}"""));
        await using (var store = Service.Store())
            await store.PersonSites.Where(row => row.PersonId == hand.PersonId).ExecuteDeleteAsync();
        Assert.Equal($"[{straw}]", await PutAsync($$"""{"bedsLeftOut":[{{straw}}]}"""));
        Assert.Equal("refused", await PutAsync($$"""{"bedsLeftOut":[{{hazels}}]}"""));
        Assert.Equal("[]", await PutAsync("{}"));

        async Task<string> PutAsync(string body)
        {
            using var change = new HttpRequestMessage(HttpMethod.Put, "/api/v1/me/wishes") { Content = new StringContent(body, System.Text.Encoding.UTF8, "application/json") };
            change.Headers.TryAddWithoutValidation("If-Match", "*");
            using var changed = await http.SendAsync(change);
            var answer = System.Text.Json.JsonDocument.Parse(await changed.Content.ReadAsStringAsync()).RootElement;
            if (changed.StatusCode == HttpStatusCode.OK)
                return answer.GetProperty("bedsLeftOut").ToString();
            Assert.True(answer.GetProperty("errors").TryGetProperty("bedsLeftOut", out _));
            return "refused";
        }
    }

    [Fact]
    public async Task A_notice_is_put_off_for_one_person_within_a_month()
    {
        using var api = new ApiClient(Service);
        var notice = await Service.WaterAsync();
        var put = await api.SendAsync("POST", $"/api/v1/notices/{notice}/snooze", """{"until":"2026-10-20"}""");
        Assert.Equal((HttpStatusCode.OK, "2026-10-20"), (put.Status, Read(put, "until")));
        Assert.Equal(HttpStatusCode.OK, (await api.SendAsync("POST", $"/api/v1/notices/{notice}/snooze", """{"until":"2026-10-16"}""")).Status);
        foreach (var until in new[] { "2026-10-14", "2026-11-15" })
            Assert.Equal(["until"], (await api.SendAsync("POST", $"/api/v1/notices/{notice}/snooze", $$"""{"until":"{{until}}"}""")).Refused);
        Assert.Equal(HttpStatusCode.NotFound, (await api.SendAsync("POST", "/api/v1/notices/987654321/snooze", """{"until":"2026-10-20"}""")).Status);
        await using var store = Service.Store();
        // What was said last holds.
        Assert.Equal(new LocalDate(2026, 10, 16), (await Snoozes.OfAsync(store, [Service.Coordinator.PersonId], CancellationToken.None))[(Service.Coordinator.PersonId, notice)].First().Until);
        var ended = await store.Notices.FirstAsync(row => row.State != NoticeState.Open);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", $"/api/v1/notices/{ended.Id}/snooze", """{"until":"2026-10-20"}""")).Status);
    }

    [Fact]
    public async Task A_test_message_goes_out_and_an_address_is_tried_again()
    {
        using var api = new ApiClient(Service);
        Assert.Equal(HttpStatusCode.Accepted, (await api.SendAsync("POST", "/api/v1/me/test-message", null)).Status);
        var ana = await Service.JoinAsync(Role.FarmHand, "Ana Field", Service.Invented.AlderLane);
        await Service.ChangeAsync(ana.PersonId, row => (row.MailPausedAt, row.MailPausedWhy) = (InventedCooperative.Now, "550 no such mailbox"));
        using (var hers = Service.Client(ana))
        {
            using var none = await hers.PostAsync("/api/v1/me/test-message", null);
            Assert.Equal(HttpStatusCode.Conflict, none.StatusCode);
            using var refused = await hers.PostAsync($"/api/v1/people/{ana.PersonId}/resume-mail", null);
            Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        }

        var resumed = await api.SendAsync("POST", $"/api/v1/people/{ana.PersonId}/resume-mail", null);
        Assert.Equal((HttpStatusCode.OK, System.Text.Json.JsonValueKind.Null), (resumed.Status, resumed.Json.GetProperty("mailPausedAt").ValueKind));
        using (var hers = Service.Client(ana))
        {
            using var sent = await hers.PostAsync("/api/v1/me/test-message", null);
            Assert.Equal(HttpStatusCode.Accepted, sent.StatusCode);
        }
    }

    private static string? Read(ApiAnswer answer, string field) => answer.Json.GetProperty(field).GetString();
}
