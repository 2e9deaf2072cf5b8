using System.Text.Encodings.Web;
using System.Text.Unicode;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.Logging.Abstractions;

namespace FruitWatch.Service.Digests;

/// <summary>A letter as HTML. The components encode every value; nothing here does so by hand.</summary>
internal static class HtmlLetter
{
    // Accents stay letters; what means something in HTML is encoded all the same.
    private static readonly ServiceProvider s_services =
        new ServiceCollection().AddSingleton(HtmlEncoder.Create(UnicodeRanges.All)).BuildServiceProvider();

    public static string Of(Letter letter)
    {
        // The components wait for nothing, so each step is done when it returns.
        using var renderer = new HtmlRenderer(s_services, NullLoggerFactory.Instance);
        return renderer.Dispatcher.InvokeAsync(async () =>
        {
            var given = ParameterView.FromDictionary(new Dictionary<string, object?> { [nameof(LetterPage.Letter)] = letter });
            var page = await renderer.RenderComponentAsync<LetterPage>(given);
            return page.ToHtmlString();
        }).GetAwaiter().GetResult();
    }
}
