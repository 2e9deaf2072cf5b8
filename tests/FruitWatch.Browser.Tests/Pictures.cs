using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

/// <summary>Pictures of pages, where somebody asked for them by naming a folder in FRUITWATCH_PICTURES.</summary>
internal static class Pictures
{
    private static readonly string? s_folder = Environment.GetEnvironmentVariable("FRUITWATCH_PICTURES");

    public static bool Wanted => !string.IsNullOrEmpty(s_folder);

    public static async Task TakeAsync(IPage page, string name)
    {
        if (!Wanted)
            return;
        var file = string.Concat(name.Select(c => char.IsLetterOrDigit(c) ? c : '-')) + ".png";
        await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(s_folder!, file), FullPage = true });
    }
}
