using System.Text.Json;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Tests.Describing;

public sealed class JsonPointerTests
{
    // The document and the values of RFC 6901, section 5.
    private const string Document = """
        {"foo":["bar","baz"],"":0,"a/b":1,"c%d":2,"e^f":3,"g|h":4,"i\\j":5,"k\"l":6," ":7,"m~n":8}
        """;

    [Theory]
    [InlineData("/foo", """["bar","baz"]""")]
    [InlineData("/foo/0", "\"bar\"")]
    [InlineData("/", "0")]
    [InlineData("/a~1b", "1")]
    [InlineData("/c%d", "2")]
    [InlineData("/e^f", "3")]
    [InlineData("/g|h", "4")]
    [InlineData("/i\\j", "5")]
    [InlineData("/k\"l", "6")]
    [InlineData("/ ", "7")]
    [InlineData("/m~0n", "8")]
    public void It_finds_what_the_standards_examples_find(string path, string value) => Assert.Equal(value, Found(path));

    [Fact]
    public void The_empty_pointer_is_the_whole_document() => Assert.Equal(Document.Trim(), Found(""));

    [Theory]
    [InlineData("/foo/2")]
    [InlineData("/foo/-")]
    [InlineData("/foo/00")]
    [InlineData("/foo/01")]
    [InlineData("/foo/+1")]
    [InlineData("/foo/99999999999")]
    [InlineData("/foo/0/deeper")]
    [InlineData("/nowhere/else")]
    public void What_is_not_there_is_absent_and_never_an_error(string path) => Assert.Null(Found(path));

    [Theory]
    [InlineData("foo")]
    [InlineData("/a~2b")]
    [InlineData("/a~")]
    [InlineData("#/foo")]
    public void A_text_that_is_no_pointer_is_refused(string text) => Assert.Null(JsonPointer.TryParse(text));

    [Fact]
    public void A_suffix_names_the_sibling_and_is_escaped() => Assert.Equal("/daily/rain_~1~0x", JsonPointer.TryParse("/daily/rain")!.WithSuffix("_/~x").Text);

    private static string? Found(string path)
    {
        using var document = JsonDocument.Parse(Document);
        return JsonPointer.TryParse(path)!.Evaluate(document.RootElement)?.GetRawText();
    }
}
