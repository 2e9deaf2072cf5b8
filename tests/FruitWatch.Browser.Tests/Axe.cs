using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace FruitWatch.Browser.Tests;

/// <summary>
/// The axe rules on a page, frames left out: the frame of a mail is sandboxed and runs no script, so that axe would wait in it for ever.
/// </summary>
internal static class Axe
{
    private const string Run = """
        () => axe.run(document, { iframes: false, preload: false, resultTypes: ['violations'] }).then(found => found.violations
            .map(v => `${v.id}, ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html + ' ' + n.failureSummary).join(' | ')}`).join('; '))
        """;

    private static readonly string s_rules = new BundledAxeScriptProvider().GetScript();

    /// <summary>What was violated, in words; empty for nothing.</summary>
    public static async Task<string> RunAsync(IPage page)
    {
        // By the debugger and not by a script element, which the page's content policy refuses.
        await page.EvaluateAsync(s_rules);
        return await page.EvaluateAsync<string>(Run);
    }
}
