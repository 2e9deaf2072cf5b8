using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

public sealed class SeasonTests(ChromiumRun run)
{
    private string Season => string.Create(CultureInfo.InvariantCulture, $"/sites/{run.Orchard}/season");

    [Fact]
    public async Task A_grower_plans_for_another_bed_and_goes_from_the_list_to_a_species()
    {
        await using var window = await run.OpenAsync(width: 360, height: 740);
        await window.Page.GotoAsync("/");
        await window.Page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("^When to start a bed here.*Orchard Bank$") }).ClickAsync();
        await window.Page.GetByLabel("Depth cm").FillAsync("25");
        await window.Page.GetByText("Species, mulch, cover").ClickAsync();
        await window.Page.GetByRole(AriaRole.Checkbox, new() { Name = "Wine cap" }).CheckAsync();
        await window.Page.GetByRole(AriaRole.Button, new() { Name = "Plan" }).ClickAsync();
        await window.Page.WaitForURLAsync(new Regex("depthCm=25"));
        await window.Page.GetByRole(AriaRole.Link, new() { Name = "Wine cap", Exact = true }).ClickAsync();

        Assert.EndsWith("#wine-cap", window.Page.Url, StringComparison.Ordinal);
        Assert.Contains("25\u00a0cm", await window.Page.Locator("#wine-cap").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal(1, await window.Page.Locator(".season-species").CountAsync());
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_wrong_depth_is_told_at_its_field_and_by_a_link_to_it()
    {
        await using var window = await run.OpenAsync();
        await window.Page.GotoAsync(Season + "?depthCm=900&mulchCm=3");
        Assert.StartsWith("Error:", await window.Page.TitleAsync(), StringComparison.Ordinal);
        await window.Page.GetByRole(AriaRole.Alert).GetByRole(AriaRole.Link).GetByText("2 to 100").ClickAsync();
        Assert.Equal("depthCm", await window.Page.EvaluateAsync<string>("document.activeElement.id"));
        Assert.Equal("", await Axe.RunAsync(window.Page));
    }
}
