using System.Globalization;
using System.Net;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Tests.Places;

/// <summary>Sites and beds made and changed on pages; numbers by test 33 of the service's standards.</summary>
public sealed class PlaceFormTests(OneService running) : IClassFixture<OneService>
{
    private static int s_number;

    private TestService Service => running.Service;

    [Theory]
    [InlineData("1.5", 1.5)]
    [InlineData("1,5", 1.5)]
    [InlineData("-0", 0.0)]
    [InlineData("1.234,5", null)]
    [InlineData("1,234.5", null)]
    [InlineData("", null)]
    [InlineData("1e1", null)]
    [InlineData("١", null)]
    public async Task A_number_is_what_was_meant_or_an_error_at_its_field(string typed, double? kept)
    {
        foreach (var language in new[] { "en", "es" })
        {
            using var browser = Speaking(language);
            var name = NewName();
            var form = (await browser.OpenAsync("/sites/new")).QuerySelector("form.ask")!;
            using var answer = await browser.SubmitAsync(form, ("name", name), ("latitudeDeg", "43"), ("longitudeDeg", typed), ("zoneId", "Europe/Madrid"));
            await using var store = Service.Store();
            var row = await store.Sites.SingleOrDefaultAsync(site => site.Name == name);
            if (kept is { } value)
            {
                Assert.Equal(value, row!.Longitude);
                Assert.False(double.IsNegative(row.Longitude));
                continue;
            }

            Assert.Null(row);
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
            var page = await HtmlPage.ReadAsync(answer);
            Assert.Equal("true", page.QuerySelector("#longitudeDeg")!.GetAttribute("aria-invalid"));
            Assert.NotEmpty(page.QuerySelector("#longitudeDeg-error")!.TextContent);
            Assert.Equal(typed, page.QuerySelector("#longitudeDeg")!.GetAttribute("value"));
            Assert.NotNull(page.QuerySelector("[role=alert] a[href='#longitudeDeg']"));
        }
    }

    /// <summary>Typed in cm and per cent, kept in m and as a share: the same number comes back, and never ten times it.</summary>
    [Theory]
    [InlineData("12,5", "12.5", 0.125)]
    [InlineData("7", "7", 0.07)]
    [InlineData("200", "200", 2.0)]
    [InlineData("200.1", null, 0)]
    [InlineData("1.234,5", null, 0)]
    public async Task A_depth_comes_back_as_it_was_typed(string typed, string? shown, double kept)
    {
        using var browser = Speaking("es");
        var name = NewName();
        using var answer = await MakeBedAsync(browser, ("name", name), ("layers[0].depthM", typed), ("shade", "33"));
        await using var store = Service.Store();
        var row = await store.Beds.Include(bed => bed.Layers).SingleOrDefaultAsync(bed => bed.Name == name);
        if (shown is null)
        {
            Assert.Null(row);
            Assert.NotNull((await HtmlPage.ReadAsync(answer)).GetElementById("layers-0-depthM-error"));
            return;
        }

        Assert.Equal((kept, 0.33, "hardwood-chips"), (row!.Layers.Single().Depth, row.Shade, row.Layers.Single().MaterialKey));
        var edit = await browser.OpenAsync(Path($"/beds/{row.Id}/edit"));
        Assert.Equal((shown, "33"), (edit.GetElementById("layers-0-depthM")!.GetAttribute("value"), edit.GetElementById("shade")!.GetAttribute("value")));
        // Saved as it is, nothing changes but the version.
        using var saved = await browser.SubmitAsync(
            edit.QuerySelector("form.ask")!, ("speciesKey", "wine-cap"), ("layers[0].materialKey", "hardwood-chips"), ("cover", "none"));
        Assert.Equal(Path($"/beds/{row.Id}"), saved.RequestMessage!.RequestUri!.AbsolutePath);
        await using var after = Service.Store();
        var again = await after.Beds.Include(bed => bed.Layers).SingleAsync(bed => bed.Id == row.Id);
        Assert.Equal((row.Layers.Single().Id, row.Shade, row.Area, row.RunOn, row.Wetness), (again.Layers.Single().Id, again.Shade, again.Area, again.RunOn, again.Wetness));
    }

    [Fact]
    public async Task A_bed_has_the_checks_of_the_api_and_the_cautions_before_it_is_filled()
    {
        using var browser = Speaking("en");
        using var answer = await MakeBedAsync(
            browser, ("name", ""), ("speciesKey", "unicorn"), ("areaM2", "0"), ("layers[0].materialKey", ""), ("layers[0].depthM", ""), ("mulchCm", "3"), ("inoculatedOn", "31/12/2026"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var page = await HtmlPage.ReadAsync(answer);
        Assert.All((string[])["name", "areaM2", "layers", "inoculatedOn"], field => Assert.NotNull(page.QuerySelector($"[role=alert] a[href='#{field}']")));
        var cautions = page.QuerySelector("[aria-labelledby=cautions]")!.Read();
        Assert.All((string[])["treated", "manure", "dust", "Local rules"], word => Assert.Contains(word, cautions, StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public async Task A_change_made_on_an_old_page_is_told_and_not_saved()
    {
        using var browser = Speaking("en");
        var edit = await browser.OpenAsync(Path($"/sites/{Service.Invented.MillField}/edit"));
        await using (var store = Service.Store())
        {
            (await store.Sites.SingleAsync(site => site.Id == Service.Invented.MillField)).Elevation = 61;
            await store.SaveChangesAsync();
        }

        using var answer = await browser.SubmitAsync(edit.QuerySelector("form.ask")!, ("name", "Another name"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("Somebody else changed it", (await HtmlPage.ReadAsync(answer)).QuerySelector("[role=alert]")!.Read(), StringComparison.Ordinal);
        await using var kept = Service.Store();
        Assert.Equal("Mill Field", (await kept.Sites.SingleAsync(site => site.Id == Service.Invented.MillField)).Name);
    }

    [Fact]
    public async Task A_grower_changes_own_beds_only_and_reads_the_log_of_others_without_its_forms()
    {
        await using (var store = Service.Store())
        {
            (await store.Cooperatives.OrderBy(row => row.Id).FirstAsync()).GrowersReadAll = true;
            await store.SaveChangesAsync();
        }

        var grower = await Member.JoinAsync(Service.Services, Service.Invented.Cooperative, Role.Grower, NewName(), [Service.Invented.AlderLane]);
        await using (var store = Service.Store())
        {
            store.BedGrowers.Add(new BedGrower { BedId = Service.Invented.Hazels, PersonId = grower.PersonId });
            await store.SaveChangesAsync();
        }

        using var browser = Service.Browser(grower);
        var own = await browser.OpenAsync(Path($"/beds/{Service.Invented.Hazels}"));
        Assert.NotNull(own.QuerySelector("nav.kinds"));
        Assert.NotNull(own.QuerySelector($"a[href='/beds/{Service.Invented.Hazels}/edit']"));
        var others = await browser.OpenAsync(Path($"/beds/{Service.Invented.Straw}?log=watered"));
        Assert.Null(others.QuerySelector("nav.kinds, form.entry, .undo, a.act"));
        Assert.Null(others.QuerySelector($"a[href='/beds/{Service.Invented.Straw}/edit']"));
        Assert.Contains("You can read this bed.", others.QuerySelector("#log")!.Read(), StringComparison.Ordinal);
        using var edit = await browser.GetAsync(Path($"/beds/{Service.Invented.Straw}/edit"));
        Assert.Equal(HttpStatusCode.Forbidden, edit.StatusCode);

        // What a grower makes is theirs.
        var name = NewName();
        using var made = await MakeBedAsync(browser, ("name", name));
        await using var after = Service.Store();
        var bed = await after.Beds.SingleAsync(row => row.Name == name);
        Assert.True(await after.BedGrowers.AnyAsync(row => row.BedId == bed.Id && row.PersonId == grower.PersonId));
    }

    [Theory]
    [InlineData(Role.Coordinator)]
    [InlineData(Role.Grower)]
    [InlineData(Role.FarmHand)]
    [InlineData(Role.Viewer)]
    public async Task No_page_leads_anybody_to_where_they_are_not_let_in(Role role)
    {
        var member = await Member.JoinAsync(Service.Services, Service.Invented.Cooperative, role, NewName(), [Service.Invented.AlderLane, Service.Invented.MillField]);
        using var browser = Service.Browser(member);
        var seen = new HashSet<string>();
        var left = new Queue<string>(["/"]);
        while (left.TryDequeue(out var path) && seen.Count < 60)
        {
            using var answer = await browser.GetAsync(path);
            Assert.True(answer.StatusCode != HttpStatusCode.Forbidden, $"{role} is led to {path}");
            if (answer.Content.Headers.ContentType?.MediaType != "text/html")
                continue;
            foreach (var link in (await HtmlPage.ReadAsync(answer)).QuerySelectorAll("a[href^='/']").Select(link => link.GetAttribute("href")!.Split('#')[0]))
            {
                if (seen.Add(link))
                    left.Enqueue(link);
            }
        }
    }

    private HttpClient Speaking(string language)
    {
        var browser = Service.Browser();
        browser.Speak(language);
        return browser;
    }

    private Task<HttpResponseMessage> MakeBedAsync(HttpClient browser, params (string Name, string Value)[] filled) => FillAsync(browser, filled);

    private async Task<HttpResponseMessage> FillAsync(HttpClient browser, (string Name, string Value)[] filled)
    {
        var page = await browser.OpenAsync(Path($"/beds/new?site={Service.Invented.AlderLane}"));
        (string, string)[] usual =
        [
            ("speciesKey", "wine-cap"), ("areaM2", "4"), ("inoculatedOn", "2026-10-01"), ("layers[0].materialKey", "hardwood-chips"), ("layers[0].depthM", "12"), ("cover", "none"),
        ];
        return await browser.SubmitAsync(page.QuerySelector("form.ask")!, [.. usual, .. filled]);
    }

    private static string NewName() => string.Create(CultureInfo.InvariantCulture, $"Place {Interlocked.Increment(ref s_number)}");

    private static string Path(FormattableString path) => FormattableString.Invariant(path);
}
