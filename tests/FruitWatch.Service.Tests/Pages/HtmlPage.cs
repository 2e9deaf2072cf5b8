using AngleSharp.Dom;
using AngleSharp.Html.Parser;

namespace FruitWatch.Service.Tests.Pages;

/// <summary>A page as a browser would read it.</summary>
internal static class HtmlPage
{
    public static async Task<IDocument> ReadAsync(HttpResponseMessage answer) =>
        await new HtmlParser().ParseDocumentAsync(await answer.Content.ReadAsStringAsync());

    public static async Task<IDocument> OpenAsync(this HttpClient browser, string path)
    {
        using var answer = await browser.GetAsync(path);
        return await ReadAsync(answer);
    }

    /// <summary>The language that was chosen on the pages, before whatever else would speak.</summary>
    public static void Speak(this HttpClient browser, string language) => browser.DefaultRequestHeaders.Add("Cookie", $"language={language}");

    /// <summary>Sends the form that holds an element, with what stands in it and what is filled in.</summary>
    public static async Task<HttpResponseMessage> SubmitAsync(
        this HttpClient browser, IElement within, params (string Name, string Value)[] filled)
    {
        var form = within.Closest("form")!;
        var values = form.QuerySelectorAll("input[name]").Where(input => input.GetAttribute("type") is not ("radio" or "checkbox"))
            .ToDictionary(input => input.GetAttribute("name")!, input => input.GetAttribute("value") ?? "");
        if (within.TagName == "BUTTON" && within.GetAttribute("name") is { } pressed)
            values[pressed] = within.GetAttribute("value") ?? "";
        foreach (var (name, value) in filled)
            values[name] = value;
        return await browser.PostAsync(form.GetAttribute("action"), new FormUrlEncodedContent(values));
    }

    /// <summary>What can be read on it, in one line.</summary>
    public static string Read(this IElement element) =>
        string.Join(' ', element.TextContent.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
