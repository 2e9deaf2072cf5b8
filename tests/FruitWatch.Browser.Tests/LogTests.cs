using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

public sealed class LogTests(ChromiumRun run)
{
    [Fact]
    public async Task An_entry_is_made_on_the_phone_seen_in_the_log_and_undone_again()
    {
        await using var window = await run.OpenAsync(width: 360, height: 740);
        await window.Page.GotoAsync(Path("/beds/{0}", run.Invented.Young));
        await window.Page.GetByRole(AriaRole.Link, new() { Name = "Watered", Exact = true }).ClickAsync();
        await window.Page.GetByLabel("Water given litres").FillAsync("12.5");
        await window.Page.GetByRole(AriaRole.Button, new() { Name = "Save entry" }).ClickAsync();

        await window.Page.GetByRole(AriaRole.Status).GetByText("Watered: 12.5").WaitForAsync();
        var entry = window.Page.Locator(".entries li").First;
        Assert.Contains("12.5", await entry.InnerTextAsync(), StringComparison.Ordinal);

        await entry.GetByRole(AriaRole.Button).ClickAsync();
        await window.Page.GetByRole(AriaRole.Status).GetByText("as if the entry had never been made").WaitForAsync();
        Assert.Equal(0, await window.Page.Locator(".entries li").CountAsync());
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_spanish_browser_sends_one_and_a_half_as_one_and_a_half()
    {
        await using var window = await run.OpenAsync("es", width: 360, height: 740);
        await window.Page.GotoAsync(Path("/beds/{0}?log=picked", run.Invented.Straw));
        await window.Page.Locator("#amount").FillAsync("1.5");
        await window.Page.GetByRole(AriaRole.Button, new() { Name = "Guardar" }).ClickAsync();
        var entry = window.Page.Locator(".entries li").First;
        await window.Page.GetByRole(AriaRole.Status).WaitForAsync();
        Assert.Contains("1,5\u00a0kg", await entry.InnerTextAsync(), StringComparison.Ordinal);
        await entry.GetByRole(AriaRole.Button).ClickAsync();
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_wrong_amount_is_told_at_its_field_and_by_a_link_to_it()
    {
        await using var window = await run.OpenAsync();
        await window.Page.GotoAsync(Path("/beds/{0}?log=watered", run.Invented.Straw));
        await window.Page.GetByRole(AriaRole.Button, new() { Name = "Save entry" }).ClickAsync();
        await Assertions.Expect(window.Page).ToHaveTitleAsync(new Regex("^Error:"), new() { Timeout = ChromiumRun.Patience });
        await window.Page.GetByRole(AriaRole.Alert).GetByRole(AriaRole.Link).ClickAsync();
        Assert.Equal("amount", await window.Page.EvaluateAsync<string>("document.activeElement.id"));
        Assert.Equal("true", await window.Page.Locator("#amount").GetAttributeAsync("aria-invalid"));
        Assert.Equal("", await Axe.RunAsync(window.Page));
    }

    private static string Path(string form, long id) => string.Format(CultureInfo.InvariantCulture, form, id);
}
