namespace FruitWatch.Browser.Tests;

public sealed class AccessibilityTests(ChromiumRun run)
{
    public static TheoryData<string> Paths => new(Sitemap.Paths);

    /// <summary>
    /// WCAG 2.2 A and AA and axe's own good practice, on every page in every dress. With FRUITWATCH_PICTURES naming a folder, pictures
    /// of all of them are put there for people to judge.
    /// </summary>
    [Theory]
    [MemberData(nameof(Paths))]
    public async Task Every_page_in_every_dress_has_no_violation_and_no_complaint_of_the_browser(string path)
    {
        foreach (var language in new[] { "en", "es" })
        {
            foreach (var dark in new[] { false, true })
            {
                foreach (var width in new[] { 1280, 320 })
                {
                    await using var window = await run.OpenAsync(language, dark, width);
                    await window.Page.GotoAsync(Sitemap.Fill(path, run.Invented, run.Orchard));
                    await Pictures.TakeAsync(window.Page, $"{path} {language} {(dark ? "dark" : "light")} {width}");
                    var dress = $"{path} in {language}, {(dark ? "dark" : "light")}, {width} px";

                    Assert.Equal(language, await window.Page.GetAttributeAsync("html", "lang"));
                    var sideways = await window.Page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
                    Assert.True(sideways <= 0, $"{dress}: scrolls {sideways} px sideways");
                    await window.Page.EvaluateAsync("document.querySelectorAll('details').forEach(details => details.open = true)");
                    var violations = await Axe.RunAsync(window.Page);
                    Assert.True(violations.Length == 0, $"{dress}: {violations}");
                    Assert.True(window.Complaints.Count == 0, $"{dress}: {string.Join("; ", window.Complaints)}");
                }
            }
        }
    }
}
