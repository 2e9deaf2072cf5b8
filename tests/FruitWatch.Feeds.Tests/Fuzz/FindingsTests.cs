using System.Text.Json.Nodes;

namespace FruitWatch.Feeds.Tests.Fuzz;

/// <summary>What the harness found, kept: the seeds that showed a fault, and the fault in its shortest form.</summary>
public sealed class FindingsTests
{
    [Theory]
    [InlineData("station-daily.csv", 7479449)] // A comment's mark that the CSV reader does not take threw.
    [InlineData("ghcn.dly", 69515)] // A host that no name system takes threw, in the address…
    [InlineData("malformed/rain-layer-empty.json", 171032)] // …and in the address of a step.
    [InlineData("malformed/rain-9999.json", 11582839)] // A control character in a pointer came through into a message.
    public void A_seed_that_showed_a_fault_shows_none_any_more(string sample, int seed) =>
        Assert.Null(FuzzTests.OutcomeOf(new FuzzCase(sample, seed)).Fault);

    [Theory]
    [InlineData("ä")]
    [InlineData("\u0001")]
    [InlineData("\"")]
    [InlineData(",")]
    [InlineData("# ")]
    public void A_comments_mark_that_cannot_be_one_is_refused(string mark) =>
        Assert.Equal("/format/comment", Refused("station-daily-csv", json => json["format"]!["comment"] = mark));

    [Theory]
    [InlineData("https://api.weathe\uFFFD.gov/")]
    public void A_host_that_no_name_system_takes_is_refused(string url) =>
        Assert.StartsWith("/request", Refused("open-meteo-daily", json => json["request"]!["url"] = url), StringComparison.Ordinal);

    [Fact]
    public void A_pointer_to_the_whole_answer_still_has_a_place_in_messages()
    {
        var body = File.ReadAllBytes(Samples.PathOf("open-meteo-daily.json"));
        var undeclared = Mapping.Feeds.Changed("open-meteo-daily", json => json["series"]!["tmax"]!["unit"]!["declaredAt"] = "");
        Assert.Equal("the whole answer", Samples.Read(undeclared, body).Notes.Single(note => note.Code == FeedCodes.UnitUndeclared).Place);

        var nowhere = Mapping.Feeds.Changed("open-meteo-daily", json => json["series"]!["tmax"]!["at"] = "");
        Assert.Contains("(the whole answer)", Assert.Throws<FeedException>(() => Samples.Read(nowhere, body)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_control_character_in_a_pointer_stays_out_of_messages()
    {
        var odd = Mapping.Feeds.Changed("open-meteo-daily", json => json["series"]!["tmax"]!["at"] = "/daily/\u0007x");
        var refusal = Assert.Throws<FeedException>(() => Samples.Read(odd, File.ReadAllBytes(Samples.PathOf("open-meteo-daily.json"))));
        Assert.Equal("/daily/ x", refusal.Place);
        Assert.DoesNotContain(refusal.Message, char.IsControl);
    }

    private static string Refused(string preset, Action<JsonNode> change) =>
        Assert.Throws<FeedDescriptionException>(() => Mapping.Feeds.Changed(preset, change)).Problems[0].Place;
}
