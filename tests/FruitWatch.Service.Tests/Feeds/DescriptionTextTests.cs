using FruitWatch.Service.Feeds;

namespace FruitWatch.Service.Tests.Feeds;

public sealed class DescriptionTextTests
{
    private const string Text = "{\n  \"id\": \"a\",\n  \"request\": {\n    \"url\": \"https://one.example/x\",\n    \"steps\": [\n      { \"url\": \"https://two.example/?q\" },\n      { \"a/b\": 1 }\n    ]\n  },\n  \"list\": [1, [2,\n 3]]\n}";

    [Theory]
    [InlineData("", 1)]
    [InlineData("/id", 2)]
    [InlineData("/request", 3)]
    [InlineData("/request/url", 4)]
    [InlineData("/request/steps/0/url", 6)]
    [InlineData("/request/steps/1/a~1b", 7)]
    [InlineData("/list/1/1", 11)]
    [InlineData("/request/nothing/here", 3)]
    public void A_pointer_is_found_in_the_lines_or_what_is_nearest_above_it(string place, int line) =>
        Assert.Equal(line, DescriptionText.LineOf(Text, place));

    [Fact]
    public void A_value_is_put_in_its_place_and_nothing_else_changes()
    {
        Assert.Equal("{\n  \"a\": {\n    \"b\": \"[degF]\"\n  },\n  \"c\": 1\n}", DescriptionText.With("""{"a":{"b":"Cel"},"c":1}""", "/a/b", "\"[degF]\""));
        Assert.Contains("0.1", DescriptionText.With("""{"a":{}}""", "/a/scale", "0.1"), StringComparison.Ordinal);
        Assert.Null(DescriptionText.With("""{"a":{}}""", "/b/c", "1"));
        Assert.Null(DescriptionText.With("not json", "/a", "1"));
    }

    [Fact]
    public void All_hosts_that_a_description_asks_are_known() =>
        Assert.Equal(["https://one.example", "https://two.example"], DescriptionText.Hosts(Text).Order());
}
