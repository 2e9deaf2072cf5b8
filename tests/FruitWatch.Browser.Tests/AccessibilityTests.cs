namespace FruitWatch.Browser.Tests;

public sealed class AccessibilityTests(ChromiumRun run)
{
    public static TheoryData<string> Paths => new(Sitemap.Paths);

    /// <summary>
    /// WCAG 2.2 A and AA and axe's own good practice, on every page in four dresses of eight. Each page is seen in each two of language,
    /// brightness and width together, and every other page in the other four. With FRUITWATCH_PICTURES naming a folder, pictures of all
    /// eight are put there for people to judge.
    /// </summary>
    [Theory]
    [MemberData(nameof(Paths))]
    public async Task Every_page_in_its_dresses_has_no_violation_and_no_complaint_of_the_browser(string path)
    {
        foreach (var (language, dark, width) in DressesOf(Array.IndexOf(Sitemap.Paths, path)))
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

    /// <summary>An orthogonal array of strength two over three questions of two answers, and its complement.</summary>
    private static IEnumerable<(string Language, bool Dark, int Width)> DressesOf(int page)
    {
        foreach (var spanish in new[] { false, true })
        {
            foreach (var dark in new[] { false, true })
            {
                foreach (var narrow in new[] { false, true })
                {
                    if (Pictures.Wanted || (spanish ^ dark ^ narrow) == (page % 2 == 1))
                        yield return (spanish ? "es" : "en", dark, narrow ? 320 : 1280);
                }
            }
        }
    }
}
