using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Json.Schema;

namespace FruitWatch.Feeds.Tests.Describing;

/// <summary>The JSON Schema that is shipped beside the presets, held against the presets and against our own reader.</summary>
public sealed class SchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(FeedPresets.SchemaJson);

    public static TheoryData<string> Presets => [.. FeedPresets.All.Select(preset => preset.Id)];

    [Theory]
    [MemberData(nameof(Presets))]
    public void A_shipped_description_is_valid(string id) => Assert.True(IsValid(JsonNode.Parse(FeedPresets.Find(id)!.Json)!));

    /// <summary>
    /// Where our reader says no and the schema yes: what the schema language cannot say, or says too laxly for a text that is
    /// read before it meets an answer.
    /// </summary>
    private static readonly (string Path, string What, string Why)[] Stricter =
    [
        ("/attribution/url", "\".*\"", "a link is an https address"),
        ("/daily/[a-z]+/from(/[0-9]+)?", ".*", "only series that are described can be named"),
        ("/series/[a-z0-9]+", "removed", "a series that a day is made from must be there"),
        ("/expect(/horizonDays(/back)?)?", "removed|\\{\\}", "something must say how many days back {start} is"),
        ("/expect/horizonDays/(back|ahead)", "-1", "days are counted from 0"),
        ("/format/(columns|header)", ".*", "names of columns are given exactly when there is no header"),
        ("/format/comment", "\"\"", "a mark of no length would make every line a comment"),
        ("/format/keepFrom", "\".*\"", "only {start} is known"),
        ("/(request/dates|time)/pattern", ".*", "a pattern must give back the time it wrote, and local times need one"),
        ("/time/zone", "\"x\"|removed", "a zone must exist, and local times need one"),
        ("/request/mediaTypes(/[0-9]+)?", ".*\".*\".*", "a content type is type/subtype"),
        ("/(series/[a-z0-9]+(/(where|rejectIf)/[0-9]+)?|time)/(at|column|alternatives)", "removed|\"x?\"", "each value has a place, a column has a name, and a dly file has seven of them"),
        ("/series/[a-z0-9]+/members(/last)?", "removed|-1", "all series have members or none, and members are counted from 0"),
        ("/series/[a-z0-9]+/period", "removed", "a total over the time before or after its stamp needs the length of that time"),
        ("/series/[a-z0-9]+/rejectIf/[0-9]+(/(in|notBlank)(/[0-9]+)?)?", ".*", "exactly one of notBlank and in says which marks are bad"),
        ("/series/[a-z0-9]+/records", "removed", "each series of the format intervals has a list of its own"),
        ("/request/steps(/.*)?", "removed|\\[\\]|\\{\\}", "what is used in the address must be captured first"),
        ("/request/mustStayOnHost", "\"\"", "a host has a name"),
        ("/refresh/deprecatedStatus/[0-9]+", "7|-1", "a status has three digits"),
    ];

    [Fact]
    public void Our_reader_and_the_schema_agree_but_where_we_mean_to_be_stricter()
    {
        var seen = new HashSet<string>();
        var used = new HashSet<string>();
        var unforeseen = new List<string>();
        foreach (var preset in FeedPresets.All)
        {
            var form = JsonNode.Parse(preset.Json)!["format"]!["kind"]!.GetValue<string>();
            foreach (var (path, what, text) in Mutations.Of(preset.Json))
            {
                // The same change to the same kind of place is looked at once for each form.
                if (!seen.Add($"{form} {OfAnyName(path)} {what}"))
                    continue;
                var (schema, ours) = (IsValid(JsonNode.Parse(text)!), IsAccepted(text));
                if (schema == ours)
                    continue;
                var rule = Stricter.FirstOrDefault(one => schema && Regex.IsMatch(path, $"^{one.Path}$") && Regex.IsMatch(what, $"^({one.What})$"));
                if (rule.Why is null)
                    unforeseen.Add($"{path} {what} of {preset.Id}: the schema says {schema}, our reader {ours}");
                else
                    used.Add(rule.Why);
            }
        }
        Assert.Empty(unforeseen);
        Assert.Equal(Stricter.Select(one => one.Why).Order(StringComparer.Ordinal), used.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_station_on_the_own_network_is_allowed_by_the_operator_and_not_by_the_schema()
    {
        var json = FeedPresets.Find("open-meteo-daily")!.Json.Replace("https://api.open-meteo.com", "http://station.alder-lane.example:8080", StringComparison.Ordinal);
        Assert.False(IsValid(JsonNode.Parse(json)!));
        Assert.Equal("open-meteo-daily", FeedDescription.Parse(json, new HashSet<string> { "station.alder-lane.example:8080" }).Id);
    }

    private static string OfAnyName(string path) =>
        Regex.Replace(Regex.Replace(path, "(?<=^/(series|daily)/)[a-z0-9]+", "*"), "[0-9]+", "#");

    private static bool IsValid(JsonNode description) => Schema.Evaluate(description).IsValid;

    private static bool IsAccepted(string json)
    {
        try
        {
            FeedDescription.Parse(json);
            return true;
        }
        catch (FeedDescriptionException)
        {
            return false;
        }
    }
}
