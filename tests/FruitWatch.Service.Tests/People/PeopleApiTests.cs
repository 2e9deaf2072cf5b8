using System.Globalization;
using System.Net;
using System.Text.Json;
using FruitWatch.Service.People;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Tests.People;

/// <summary>Members over the web API. The rules are those of docs/people.md.</summary>
public sealed class PeopleApiTests(OneService running) : IClassFixture<OneService>
{
    /// <summary>Told of a member, and not to be set.</summary>
    private static readonly string[] s_told = ["id", "emailConfirmedAt", "signsIn", "invitedUntil"];

    private static int s_number;

    private TestService Service => running.Service;

    [Fact]
    public async Task Somebody_invited_is_not_let_in_and_told_nothing_until_they_accept()
    {
        using var api = new ApiClient(Service);
        var made = await InviteAsync(api, "grower");
        Assert.Equal(HttpStatusCode.Created, made.Status);
        Assert.False(made.Json.GetProperty("active").GetBoolean());
        Assert.False(made.Json.GetProperty("signsIn").GetBoolean());
        Assert.Equal(JsonValueKind.Null, made.Json.GetProperty("emailConfirmedAt").ValueKind);
        Assert.Equal("2026-10-21T06:30:00Z", made.Json.GetProperty("invitedUntil").GetString());
        await using var store = Service.Store();
        Assert.DoesNotContain(IdOf(made), await FruitWatch.Store.Queries.PeopleTold.PeopleToTell(store).Select(row => row.Id).ToListAsync());
    }

    [Fact]
    public async Task Eight_who_give_one_address_to_somebody_new_at_once_make_one_member()
    {
        using var api = new ApiClient(Service);
        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => api.SendAsync(
            "POST", "/api/v1/people", JsonSerializer.Serialize(new { name = $"Same {i}", email = "same@alder-lane.example", role = "farm-hand", siteIds = new[] { Service.Invented.AlderLane } }))));
        Assert.Single(answers, answer => answer.Status == HttpStatusCode.Created);
        // Asked for before it was there, or at the same moment.
        Assert.All(answers.Where(answer => answer.Status != HttpStatusCode.Created), answer =>
            Assert.Contains(answer.Status, new[] { HttpStatusCode.BadRequest, HttpStatusCode.UnprocessableEntity, HttpStatusCode.Conflict }));
    }

    [Fact]
    public async Task A_farm_hand_needs_no_address_and_is_let_in_at_once()
    {
        using var api = new ApiClient(Service);
        foreach (var name in new[] { "First hand", "Second hand" })
        {
            var made = await api.SendAsync("POST", "/api/v1/people", JsonSerializer.Serialize(new { name, role = "farm-hand", siteIds = new[] { Service.Invented.AlderLane } }));
            Assert.Equal(HttpStatusCode.Created, made.Status);
            Assert.True(made.Json.GetProperty("active").GetBoolean());
            Assert.Equal("", made.Json.GetProperty("email").GetString());
        }

        Assert.Contains("email", (await api.SendAsync("POST", "/api/v1/people", """{"name":"Nobody","role":"grower"}""")).Refused);
    }

    /// <summary>A name or an address is put into mails, pages and logs: nothing in it may end a line (ASVS 5.0 1.3.11; RFC 5322 3.4.1).</summary>
    [Theory]
    [InlineData("name", "a\nb")]
    [InlineData("name", "a\u0000b")]
    [InlineData("name", "")]
    [InlineData("name", "81")]
    [InlineData("email", "no address")]
    [InlineData("email", "a@b, c@d")]
    [InlineData("email", "Ana <ana@example.org>")]
    [InlineData("email", "ana@")]
    [InlineData("email", "@example.org")]
    [InlineData("email", "ana@example.org\nBcc: x@example.org")]
    [InlineData("email", "añá@example.org")]
    [InlineData("email", "255")]
    [InlineData("role", "king")]
    [InlineData("language", "tlh")]
    [InlineData("units", "cubits")]
    [InlineData("zoneId", "Mars/Olympus")]
    [InlineData("morningAt", "18:01")]
    [InlineData("quietFrom", "25:00")]
    public async Task A_field_that_cannot_be_is_named(string field, string value)
    {
        if (value is "81" or "255")
            value = new string('a', int.Parse(value, CultureInfo.InvariantCulture) - (field == "email" ? 12 : 0)) + (field == "email" ? "@example.org" : "");
        var body = new Dictionary<string, object> { ["name"] = "Ana", ["email"] = "ana.field@example.org", ["role"] = "viewer", [field] = value };
        using var api = new ApiClient(Service);
        var answer = await api.SendAsync("POST", "/api/v1/people", JsonSerializer.Serialize(body));
        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal([field], answer.Refused);
    }

    [Fact]
    public async Task An_address_belongs_to_one_member_whatever_its_case()
    {
        using var api = new ApiClient(Service);
        var address = NewAddress();
        Assert.Equal(HttpStatusCode.Created, (await InviteAsync(api, "viewer", address)).Status);
        Assert.Equal(["email"], (await InviteAsync(api, "viewer", address.ToUpperInvariant())).Refused);
    }

    [Fact]
    public async Task A_bed_brings_its_site_and_a_site_taken_away_takes_its_beds_along()
    {
        using var api = new ApiClient(Service);
        var invented = Service.Invented;
        var made = await InviteAsync(api, "grower", more: new { bedIds = new[] { invented.Straw, invented.Young } });
        Assert.Equal([invented.AlderLane, invented.MillField], Ids(made, "siteIds"));
        Assert.Equal([invented.Straw, invented.Young], Ids(made, "bedIds"));

        var changed = await ChangeAsync(api, made, new { siteIds = new[] { invented.MillField }, bedIds = new[] { invented.Straw, invented.Young } });
        Assert.Equal([invented.MillField], Ids(changed, "siteIds"));
        Assert.Equal([invented.Young], Ids(changed, "bedIds"));
        Assert.NotEqual(made.ETag, changed.ETag);

        var again = await ChangeAsync(api, changed, new { siteIds = new[] { invented.MillField }, bedIds = new[] { invented.Hazels } });
        Assert.Equal([invented.AlderLane, invented.MillField], Ids(again, "siteIds"));
        Assert.Equal([invented.Hazels], Ids(again, "bedIds"));
        await using var store = Service.Store();
        var id = IdOf(made);
        Assert.Equal(2, await store.PersonSites.CountAsync(row => row.PersonId == id));
        Assert.Equal(1, await store.BedGrowers.CountAsync(row => row.PersonId == id));
    }

    [Fact]
    public async Task Sites_and_beds_of_nobody_or_of_others_are_not_known()
    {
        using var api = new ApiClient(Service);
        Assert.Equal(["siteIds"], (await InviteAsync(api, "grower", more: new { siteIds = Some(987654) })).Refused);
        Assert.Equal(["bedIds"], (await InviteAsync(api, "grower", more: new { bedIds = Some(987654) })).Refused);
        Assert.Equal(["siteIds"], (await InviteAsync(api, "grower", more: new { siteIds = Some(1, 1) })).Refused);
    }

    /// <summary>Somebody always answers for the cooperative, and nobody raises or lowers themself.</summary>
    [Fact]
    public async Task The_last_coordinator_stays_and_nobody_changes_their_own_role()
    {
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        var own = await api.GetAsync(Path(service.Coordinator.PersonId));
        Assert.Equal(HttpStatusCode.Conflict, (await ChangeAsync(api, own, new { role = "viewer" })).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await ChangeAsync(api, own, new { active = false })).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("DELETE", Path(service.Coordinator.PersonId), null, ("If-Match", own.ETag!))).Status);

        var second = await Member.JoinAsync(service.Services, service.Invented.Cooperative, Role.Coordinator, "Second Coordinator");
        Assert.Equal(HttpStatusCode.Conflict, (await ChangeAsync(api, own, new { role = "viewer" })).Status);
        var other = await api.GetAsync(Path(second.PersonId));
        var lowered = await ChangeAsync(api, other, new { role = "grower" });
        Assert.Equal("grower", lowered.Json.GetProperty("role").GetString());
        Assert.Equal(HttpStatusCode.Conflict, (await ChangeAsync(api, own, new { active = false })).Status);
        // A role that was taken holds at once, in the session that is open.
        using var theirs = service.Client(second);
        using var refused = await theirs.GetAsync("/api/v1/people");
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
    }

    [Fact]
    public async Task A_change_names_the_version_that_it_is_meant_for()
    {
        using var api = new ApiClient(Service);
        var made = await InviteAsync(api, "viewer");
        var body = JsonSerializer.Serialize(Body(made));
        Assert.Equal((HttpStatusCode)428, (await api.SendAsync("PUT", Path(IdOf(made)), body, ("If-Match", ""))).Status);
        Assert.Equal(HttpStatusCode.PreconditionFailed, (await api.SendAsync("PUT", Path(IdOf(made)), body, ("If-Match", "\"99\""))).Status);
        Assert.Equal(HttpStatusCode.NotModified, (await api.GetAsync(Path(IdOf(made)), ("If-None-Match", made.ETag!))).Status);
    }

    [Fact]
    public async Task Nobody_is_made_active_who_has_not_accepted_and_a_farm_hand_who_becomes_more_waits_for_it()
    {
        using var api = new ApiClient(Service);
        var grower = await InviteAsync(api, "grower");
        Assert.Equal(HttpStatusCode.Conflict, (await ChangeAsync(api, grower, new { active = true })).Status);
        var hand = await InviteAsync(api, "farm-hand");
        Assert.True(hand.Json.GetProperty("active").GetBoolean());
        await using (var store = Service.Store())
            Assert.DoesNotContain(IdOf(hand), await FruitWatch.Store.Queries.PeopleTold.PeopleToTell(store).Select(row => row.Id).ToListAsync());
        var risen = await ChangeAsync(api, hand, new { role = "coordinator" });
        Assert.False(risen.Json.GetProperty("active").GetBoolean());
    }

    [Fact]
    public async Task An_address_that_its_holder_confirmed_is_theirs_to_change()
    {
        using var api = new ApiClient(Service);
        var made = await InviteAsync(api, "viewer");
        var moved = await ChangeAsync(api, made, new { email = NewAddress() });
        Assert.Equal(HttpStatusCode.OK, moved.Status);
        await using (var store = Service.Store())
        {
            var row = await store.People.SingleAsync(person => person.Id == IdOf(made));
            row.EmailConfirmedAt = InventedCooperative.Now;
            await store.SaveChangesAsync();
        }

        var now = await api.GetAsync(Path(IdOf(made)));
        Assert.Equal(["email"], (await ChangeAsync(api, now, new { email = NewAddress() })).Refused);
    }

    [Fact]
    public async Task Everybody_reads_and_changes_their_own_settings()
    {
        var name = $"Own {Interlocked.Increment(ref s_number)}";
        var member = await Member.JoinAsync(Service.Services, Service.Invented.Cooperative, Role.Viewer, name);
        using var client = Service.Client(member);
        using var got = await client.GetAsync("/api/v1/me");
        var me = JsonDocument.Parse(await got.Content.ReadAsStringAsync()).RootElement;
        Assert.Equal((member.PersonId, "viewer", "Alder Lane Growers"), (me.GetProperty("id").GetInt64(), me.GetProperty("role").GetString(), me.GetProperty("cooperativeName").GetString()));
        using var change = new HttpRequestMessage(HttpMethod.Put, "/api/v1/me")
        {
            Content = new StringContent("""{"name":"Renamed","language":"es","units":"us-customary","zoneId":"Pacific/Chatham","morningAt":"07:15"}""", System.Text.Encoding.UTF8, "application/json"),
        };
        change.Headers.TryAddWithoutValidation("If-Match", got.Headers.ETag!.ToString());
        using var changed = await client.SendAsync(change);
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
        await using var store = Service.Store();
        var row = await store.People.SingleAsync(person => person.Id == member.PersonId);
        Assert.Equal(("Renamed", "es", Units.UsCustomary, "Pacific/Chatham", new NodaTime.LocalTime(7, 15), Role.Viewer), (row.Name, row.Language, row.Units, row.ZoneId, row.MorningAt, row.Role));
    }

    [Fact]
    public async Task Whoever_recorded_an_entry_is_named_by_the_name_that_they_have_now()
    {
        using var api = new ApiClient(Service);
        var bed = string.Create(CultureInfo.InvariantCulture, $"/api/v1/beds/{Service.Invented.Young}/log");
        var made = await api.SendAsync("POST", bed, """{"kind":"no-pins","on":"2026-10-13"}""");
        Assert.Equal("Maren Oakhurst", made.Json.GetProperty("recordedBy").GetString());
        Assert.Equal(Service.Coordinator.PersonId, made.Json.GetProperty("recordedById").GetInt64());
        // Who it was is not for the one who writes to say.
        Assert.Equal(["recordedBy"], (await api.SendAsync("POST", bed, """{"kind":"no-pins","on":"2026-10-13","recordedBy":"Ann"}""")).Refused);
        await using (var store = Service.Store())
        {
            var rows = await store.LogEntries.Where(entry => entry.BedId == Service.Invented.Young).ToListAsync();
            Assert.Equal(Recorders.Of(Service.Coordinator.PersonId), rows.Single(entry => entry.Id == made.Json.GetProperty("id").GetInt64()).RecordedBy);
            store.LogEntries.Add(new LogEntry { BedId = Service.Invented.Young, Kind = "pins", On = new(2026, 10, 12), RecordedBy = Recorders.Of(987654), RecordedAt = InventedCooperative.Now });
            store.LogEntries.Add(new LogEntry { BedId = Service.Invented.Young, Kind = "pins", On = new(2026, 10, 11), RecordedBy = "Grandfather", RecordedAt = InventedCooperative.Now });
            await store.SaveChangesAsync();
        }

        var names = (await api.GetAsync(bed)).Json.GetProperty("items").EnumerateArray().Select(entry => entry.GetProperty("recordedBy").GetString()).ToList();
        Assert.Contains("somebody who has left", names);
        Assert.Contains("Grandfather", names);
        using var browser = Service.Browser();
        var page = await browser.OpenAsync(string.Create(CultureInfo.InvariantCulture, $"/beds/{Service.Invented.Young}"));
        var log = page.QuerySelector("#log")!.Read();
        Assert.All((string[])["by Maren Oakhurst", "by somebody who has left", "by Grandfather"], said => Assert.Contains(said, log, StringComparison.Ordinal));
    }

    internal static string Path(long id) => string.Create(CultureInfo.InvariantCulture, $"/api/v1/people/{id}");

    internal static long IdOf(ApiAnswer answer) => answer.Json.GetProperty("id").GetInt64();

    internal static string NewAddress() => string.Create(CultureInfo.InvariantCulture, $"member{Interlocked.Increment(ref s_number)}@example.org");

    internal static Task<ApiAnswer> InviteAsync(ApiClient api, string role, string? address = null, object? more = null) =>
        api.SendAsync("POST", "/api/v1/people", JsonSerializer.Serialize(Merge(new { name = "Ana Ruiz", email = address ?? NewAddress(), role }, more)));

    /// <summary>Sends a member as they are, with something changed.</summary>
    internal static Task<ApiAnswer> ChangeAsync(ApiClient api, ApiAnswer now, object change) =>
        api.SendAsync("PUT", Path(IdOf(now)), JsonSerializer.Serialize(Merge(Body(now), change)), ("If-Match", now.ETag ?? "*"));

    private static Dictionary<string, JsonElement> Body(ApiAnswer now)
    {
        return now.Json.EnumerateObject().Where(field => !s_told.Contains(field.Name)).ToDictionary(field => field.Name, field => field.Value);
    }

    private static Dictionary<string, JsonElement> Merge(object first, object? second)
    {
        var merged = JsonSerializer.SerializeToElement(first).EnumerateObject().ToDictionary(field => field.Name, field => field.Value);
        foreach (var field in second is null ? [] : JsonSerializer.SerializeToElement(second).EnumerateObject().ToList())
            merged[field.Name] = field.Value;
        return merged;
    }

    private static long[] Some(params long[] keys) => keys;

    private static List<long> Ids(ApiAnswer answer, string field) => [.. answer.Json.GetProperty(field).EnumerateArray().Select(id => id.GetInt64())];
}
