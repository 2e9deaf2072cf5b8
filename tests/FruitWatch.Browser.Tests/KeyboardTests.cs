using System.Globalization;
using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

public sealed class KeyboardTests(ChromiumRun run)
{
    private const string Focused = """
        () => {
          const e = document.activeElement;
          if (!e || e === document.body) return '';
          const box = e.getBoundingClientRect();
          const seen = box.width > 1 && box.height > 1 && box.bottom > 0 && box.top < innerHeight;
          const style = getComputedStyle(e);
          return (seen && style.outlineStyle !== 'none' ? '' : 'unseen ') + e.tagName + ' ' + (e.name || e.getAttribute('href') || e.textContent.trim());
        }
        """;

    private const string Reachable = """
        () => [...document.querySelectorAll('a[href], button, input:not([type=hidden]), summary, [tabindex="0"]')]
          .filter(e => e.checkVisibility() && !e.closest('details:not([open]) > :not(summary)')).length
        """;

    [Fact]
    public async Task The_first_tab_offers_to_skip_to_the_content_and_does_so()
    {
        await using var window = await run.OpenAsync();
        await window.Page.GotoAsync("/");
        await window.Page.Keyboard.PressAsync("Tab");
        Assert.Equal("A #content", await window.Page.EvaluateAsync<string>(Focused));
        await window.Page.Keyboard.PressAsync("Enter");
        await window.Page.Keyboard.PressAsync("Tab");
        Assert.True(await window.Page.EvaluateAsync<bool>("document.querySelector('main').contains(document.activeElement)"));
    }

    [Fact]
    public async Task Every_control_of_a_bed_is_reached_by_tab_and_shows_that_it_is()
    {
        await using var window = await run.OpenAsync();
        await window.Page.GotoAsync(string.Create(CultureInfo.InvariantCulture, $"/beds/{run.Invented.Hazels}?log=watered&from=2026-10-01"));
        var wanted = await window.Page.EvaluateAsync<int>(Reachable);
        var reached = new HashSet<string>();
        for (var i = 0; i < wanted + 20; i++)
        {
            await window.Page.Keyboard.PressAsync("Tab");
            var focused = await window.Page.EvaluateAsync<string>(Focused);
            Assert.DoesNotContain("unseen", focused, StringComparison.Ordinal);
            await window.Page.EvaluateAsync("document.activeElement.dataset.reached = 'yes'");
            reached.Add(focused);
        }

        Assert.Equal(wanted, await window.Page.EvaluateAsync<int>("document.querySelectorAll('[data-reached]:not(body)').length"));
        Assert.Contains(reached, control => control.Contains("amount", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_visitor_chooses_another_language_and_keeps_it()
    {
        await using var window = await run.OpenAsync();
        await window.Page.GotoAsync("/notices?state=open");
        await window.Page.GetByText("Español").ClickAsync();
        await Assertions.Expect(window.Page.Locator("html")).ToHaveAttributeAsync("lang", "es", new() { Timeout = ChromiumRun.Patience });
        Assert.EndsWith("/notices?state=open", window.Page.Url, StringComparison.Ordinal);
        await window.Page.GotoAsync("/");
        Assert.Equal("es", await window.Page.GetAttributeAsync("html", "lang"));
    }

    [Fact]
    public async Task The_demo_goes_on_by_its_buttons_and_comes_back_to_the_page()
    {
        await using var window = await run.OpenAsync();
        await window.Page.GotoAsync("/mail");
        await window.Page.GetByText("Next week").ClickAsync();
        await window.Page.WaitForURLAsync("**/mail");
        Assert.Empty(window.Complaints);
    }
}
