using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.Api;

public sealed class ResourceTests(OneService running) : IClassFixture<OneService>
{
    private InventedCooperative Invented => running.Service.Invented;

    [Fact]
    public async Task A_site_is_made_read_and_changed_and_a_stale_editor_is_told()
    {
        using var api = new ApiClient(running.Service);
        var made = await api.SendAsync("POST", "/api/v1/sites", """{"name":"Low Meadow","latitudeDeg":43.25,"longitudeDeg":-3,"zoneId":"Europe/Madrid","morningAt":"06:30"}""");
        Assert.Equal(HttpStatusCode.Created, made.Status);
        var read = await api.GetAsync(made.Location!);
        Assert.Equal(43.25, read.Json.GetProperty("latitudeDeg").GetDouble());
        Assert.Equal("06:30:00", read.Json.GetProperty("morningAt").GetString());
        Assert.Equal(HttpStatusCode.NotModified, (await api.GetAsync(made.Location!, ("If-None-Match", read.ETag!))).Status);

        const string change = """{"name":"Lower Meadow","latitudeDeg":43.25,"longitudeDeg":-3,"zoneId":"Europe/Madrid"}""";
        var changed = await api.SendAsync("PUT", made.Location!, change, ("If-Match", read.ETag!));
        Assert.Equal(HttpStatusCode.OK, changed.Status);
        Assert.Equal("Lower Meadow", (await api.GetAsync(made.Location!)).Json.GetProperty("name").GetString());
        Assert.Equal(HttpStatusCode.PreconditionFailed, (await api.SendAsync("PUT", made.Location!, change, ("If-Match", read.ETag!))).Status);
    }

    [Fact]
    public async Task A_bed_is_made_read_and_changed_with_its_layers()
    {
        using var api = new ApiClient(running.Service);
        var made = await api.SendAsync("POST", "/api/v1/beds", Bed("New bed", 0.1));
        Assert.Equal(HttpStatusCode.Created, made.Status);
        var read = await api.GetAsync(made.Location!);
        Assert.Equal("2026-09-01", read.Json.GetProperty("layers")[0].GetProperty("laidOn").GetString());
        Assert.Equal("none", read.Json.GetProperty("cover").GetString());

        var changed = await api.SendAsync("PUT", made.Location!, Bed("New bed", 0.2));
        Assert.Equal(HttpStatusCode.OK, changed.Status);
        Assert.NotEqual(read.ETag, changed.ETag);
        Assert.Equal(0.2, (await api.GetAsync(made.Location!)).Json.GetProperty("layers")[0].GetProperty("depthM").GetDouble());
    }

    [Fact]
    public async Task Lists_come_in_parts_that_join_without_gap_or_double()
    {
        using var api = new ApiClient(running.Service);
        var whole = (await api.GetAsync("/api/v1/notices")).Json.GetProperty("items").EnumerateArray().Select(n => n.GetProperty("id").GetInt64()).ToList();
        var joined = new List<long>();
        for (var next = "/api/v1/notices?limit=3"; next is not null;)
        {
            var part = (await api.GetAsync(next)).Json;
            joined.AddRange(part.GetProperty("items").EnumerateArray().Select(n => n.GetProperty("id").GetInt64()));
            next = part.GetProperty("next").GetString();
        }

        Assert.Equal(8, whole.Count);
        Assert.Equal(whole, joined);
    }

    [Fact]
    public async Task An_entry_changes_the_account_and_undone_leaves_no_trace()
    {
        using var api = new ApiClient(running.Service);
        var account = $"/api/v1/beds/{Key(Invented.Young)}/account";
        var log = $"/api/v1/beds/{Key(Invented.Young)}/log";
        var before = (await api.GetAsync(account)).Text;

        var made = await api.SendAsync("POST", log, """{"kind":"watered","on":"2026-10-10","amount":40}""");
        Assert.Equal(HttpStatusCode.Created, made.Status);
        var watered = (await api.GetAsync(account)).Json.GetProperty("days").EnumerateArray().Single(day => day.GetProperty("date").GetString() == "2026-10-10");
        Assert.Equal(10, watered.GetProperty("givenMm").GetDouble(), 1e-9);

        var key = made.Json.GetProperty("id").GetInt64();
        var corrected = await api.SendAsync("PUT", $"{log}/{Key(key)}", """{"kind":"watered","on":"2026-10-11","amount":20}""");
        Assert.Equal(key, corrected.Json.GetProperty("replacesId").GetInt64());
        var entries = (await api.GetAsync(log)).Json.GetProperty("items");
        Assert.Equal(1, entries.GetArrayLength());
        Assert.Equal(20, entries[0].GetProperty("amount").GetDouble());

        var undone = await api.SendAsync("DELETE", $"{log}/{Key(corrected.Json.GetProperty("id").GetInt64())}", null);
        Assert.Equal(HttpStatusCode.NoContent, undone.Status);
        Assert.Equal(before, (await api.GetAsync(account)).Text);
    }

    [Fact]
    public async Task The_account_as_csv_says_the_same_as_the_json_with_the_unit_in_every_name()
    {
        using var api = new ApiClient(running.Service);
        var path = $"/api/v1/beds/{Key(Invented.Straw)}/account?from=2026-10-01&to=2026-10-20";
        var json = (await api.GetAsync(path)).Json.GetProperty("days");
        using var http = running.Service.Client();
        http.DefaultRequestHeaders.Add("Accept", "text/csv");
        var bytes = await http.GetByteArrayAsync(path);
        Assert.Equal([0xEF, 0xBB, 0xBF], bytes[..3]);

        var lines = Encoding.UTF8.GetString(bytes[3..]).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        var names = lines[0].Split(',');
        Assert.Equal(json[0].EnumerateObject().Select(field => field.Name), names);
        Assert.Equal(21, lines.Length);
        foreach (var (line, day) in lines.Skip(1).Zip(json.EnumerateArray()))
        {
            var cells = line.Split(',');
            Assert.Equal(day.GetProperty("date").GetString(), cells[0]);
            Assert.Equal(day.GetProperty("bedC").GetDouble(), double.Parse(cells[Array.IndexOf(names, "bedC")], CultureInfo.InvariantCulture));
            Assert.Equal(day.GetProperty("phase").GetString(), cells[Array.IndexOf(names, "phase")]);
        }
    }

    [Fact]
    public async Task Format_in_the_address_wins_over_what_is_accepted()
    {
        using var api = new ApiClient(running.Service);
        var path = $"/api/v1/beds/{Key(Invented.Straw)}/account";
        Assert.Equal("text/csv", (await api.GetAsync(path + "?format=csv", ("Accept", "application/json"))).Form);
        Assert.Equal("application/json", (await api.GetAsync(path + "?format=json", ("Accept", "text/csv"))).Form);
        Assert.Equal("application/json", (await api.GetAsync(path, ("Accept", "text/csv;q=0.4, application/json"))).Form);
    }

    [Fact]
    public async Task Today_tells_phase_score_and_what_comes_next()
    {
        using var api = new ApiClient(running.Service);
        var today = (await api.GetAsync($"/api/v1/beds/{Key(Invented.Straw)}/today")).Json;
        Assert.Equal("2026-10-14", today.GetProperty("today").GetString());
        Assert.Equal("growing", today.GetProperty("day").GetProperty("phase").GetString());
        Assert.True(today.GetProperty("day").GetProperty("forecast").GetBoolean());
        Assert.InRange(today.GetProperty("day").GetProperty("score").GetDouble(), 0, 100);

        var later = (await api.GetAsync($"/api/v1/beds/{Key(Invented.Later)}/today")).Json;
        Assert.Equal("not-yet-made", later.GetProperty("problem").GetString());
    }

    [Fact]
    public async Task Notices_are_found_by_state_and_by_bed_and_say_when_they_need_the_caution()
    {
        using var api = new ApiClient(running.Service);
        var open = (await api.GetAsync("/api/v1/notices?state=open")).Json.GetProperty("items");
        Assert.Equal(4, open.GetArrayLength());
        var own = (await api.GetAsync($"/api/v1/beds/{Key(Invented.Straw)}/notices?state=open")).Json.GetProperty("items");
        var harvest = Assert.Single(own.EnumerateArray());
        Assert.Equal("expect-harvest", harvest.GetProperty("kind").GetString());
        Assert.True(harvest.GetProperty("needsEatingCaution").GetBoolean());
        Assert.Equal(("2026-10-14", "2026-10-19"), (harvest.GetProperty("from").GetString(), harvest.GetProperty("until").GetString()));
        Assert.Equal(2, harvest.GetProperty("reason").GetProperty("numbers").GetProperty("days").GetDouble());
    }

    [Fact]
    public async Task Every_species_comes_with_dangerous_lookalikes()
    {
        using var api = new ApiClient(running.Service);
        var species = (await api.GetAsync("/api/v1/species")).Json.GetProperty("items");
        Assert.True(species.GetArrayLength() > 10);
        Assert.All(species.EnumerateArray(), one => Assert.NotEqual(0, one.GetProperty("lookalikes").GetArrayLength()));
        Assert.Contains("hardwood-chips", (await api.GetAsync("/api/v1/materials")).Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/api/v1/beds")]
    [InlineData("/api/v1/sites/1")]
    [InlineData("/")]
    [InlineData("/mail")]
    [InlineData("/site.css")]
    [InlineData("/openapi/v1.json")]
    public async Task Head_is_answered_wherever_get_is_without_a_body(string path)
    {
        using var http = running.Service.Client();
        using var request = new HttpRequestMessage(HttpMethod.Head, path);
        using var answer = await http.SendAsync(request);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Empty(await answer.Content.ReadAsByteArrayAsync());
    }

    private string Bed(string name, double depth) => new JsonObject
    {
        ["siteId"] = Invented.MillField,
        ["name"] = name,
        ["speciesKey"] = "wine-cap",
        ["areaM2"] = 2,
        ["inoculatedOn"] = "2026-09-01",
        ["layers"] = new JsonArray(new JsonObject { ["materialKey"] = "hardwood-chips", ["depthM"] = depth }),
    }.ToJsonString();

    private static string Key(long id) => id.ToString(CultureInfo.InvariantCulture);
}
