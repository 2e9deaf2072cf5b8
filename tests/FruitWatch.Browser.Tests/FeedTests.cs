using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

public sealed class FeedTests(ChromiumRun run)
{
    private const string Csv = "date,tmax_c,tmin_c,rain_mm\n2026-10-09,18.2,7.1,0.4\n2026-10-10,17,6.5,T\n2026-10-12,16.1,4.9,12.6\n";

    [Fact]
    public async Task A_feed_is_made_from_a_file_by_keyboard_alone_and_seen_before_it_is_saved()
    {
        await using var window = await run.OpenAsync(width: 390, height: 800);
        var page = window.Page;
        await page.GotoAsync("/feeds");
        await PressAsync(page, "Add a feed");
        await PressAsync(page, "Own weather station, one row a day");

        await ReachAsync(page, "site");
        await page.Keyboard.TypeAsync("Mill");
        await ReachAsync(page, "file");
        // What the browser's own dialogue would give.
        await page.Locator("#file").SetInputFilesAsync(new FilePayload { Name = "roof.csv", MimeType = "text/csv", Buffer = System.Text.Encoding.UTF8.GetBytes(Csv) });
        await PressAsync(page, "Read and show");

        await page.WaitForURLAsync("**/feeds/trials/**");
        Assert.Contains("read just now", await page.GetByRole(AriaRole.Status).InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal(3, await page.Locator("table.understood tbody tr").CountAsync());
        Assert.Contains("11 Oct 2026: unknown", await page.Locator(".feed-odd").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal("", await Axe.RunAsync(page));

        await ReachAsync(page, "title");
        await page.Keyboard.PressAsync("Control+A");
        await page.Keyboard.TypeAsync("Roof of the mill");
        await PressAsync(page, "Save the feed");
        await page.WaitForURLAsync("**/feeds?done=saved");
        Assert.Equal(1, await page.Locator(".feed-card h3").GetByText("Roof of the mill").CountAsync());
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_wrong_description_is_told_at_its_field_and_by_a_link_to_it()
    {
        await using var window = await run.OpenAsync();
        var page = window.Page;
        await page.GotoAsync($"/feeds/trials/{run.Invented.Trial}");
        await page.GetByText("The description (advanced)").ClickAsync();
        await page.Locator("#description").FillAsync("{ \"schema\": 1 }");
        await page.GetByRole(AriaRole.Button, new() { Name = "Try it on the answer that is there" }).ClickAsync();
        await Assertions.Expect(page).ToHaveTitleAsync(new Regex("^Error:"), new() { Timeout = ChromiumRun.Patience });
        await page.GetByRole(AriaRole.Alert).GetByRole(AriaRole.Link).First.ClickAsync();
        Assert.Equal("description", await page.EvaluateAsync<string>("document.activeElement.id"));
        Assert.Equal("", await Axe.RunAsync(page));
    }

    private static async Task PressAsync(IPage page, string text)
    {
        await TabToAsync(page, "e => e.textContent.trim() === " + System.Text.Json.JsonSerializer.Serialize(text), text);
        var before = page.Url;
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync(url => url != before);
    }

    private static Task ReachAsync(IPage page, string id) => TabToAsync(page, "e => e.id === " + System.Text.Json.JsonSerializer.Serialize(id), id);

    private static async Task TabToAsync(IPage page, string wanted, string name)
    {
        for (var i = 0; i < 80; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync<bool>($"({wanted})(document.activeElement)"))
                return;
        }

        Assert.Fail($"{name} is not reached by the keyboard");
    }
}
