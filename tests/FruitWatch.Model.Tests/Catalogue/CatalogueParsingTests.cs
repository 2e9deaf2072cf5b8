using System.Text.Json.Nodes;
using CsCheck;
using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Tests.Catalogue;

/// <summary>What a grower is told whose catalogue file is wrong.</summary>
public class CatalogueParsingTests
{
    [Fact]
    public void A_sound_file_is_read_whole()
    {
        var catalogue = BedCatalogue.Parse(OwnCatalogue.Json);

        var species = Assert.Single(catalogue.Species.Values);
        Assert.Equal("alder-cap", species.Key);
        Assert.Equal("Sombrero de aliso", species.NameIn("es"));
        Assert.Equal("common practice, no source", species.Sources["spawn_run/q"]);
        Assert.Equal(new SoakTrigger(12, 4), species.Triggers.Soak);
        Assert.Null(species.Triggers.Frost);
        Assert.Null(species.Triggers.Cooling);
        Assert.Equal("Cook it.", Assert.Single(species.Cautions).Text);
        Assert.Equal("alder-chips", Assert.Single(catalogue.Materials.Values).Key);
        Assert.Same(BedCatalogue.BuiltIn.Covers, catalogue.Covers);
    }

    [Fact]
    public void Comments_and_a_trailing_comma_are_forgiven()
    {
        var catalogue = BedCatalogue.Parse("""{ "version": 1, /* nothing of my own yet */ "species": {}, }""");

        Assert.Empty(catalogue.Species);
    }

    [Theory]
    [InlineData("", "line 1, byte 1")]
    [InlineData("{\n  \"version\": 1,\n  \"species\" {}\n}", "line 3, byte 13")]
    public void Text_that_is_not_JSON_is_told_by_line_and_byte(string json, string place)
    {
        var problem = Assert.Single(Assert.Throws<CatalogueException>(() => BedCatalogue.Parse(json)).Problems);

        Assert.Equal("", problem.Path);
        Assert.Contains(place, problem.ToString(), StringComparison.Ordinal);
        Assert.StartsWith("the file: ", problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_not_an_object_is_refused() => AssertOnlyProblem("[1, 2]", "", "[1, 2]", "an object with version");

    [Theory]
    [InlineData("""{ "species": {} }""", "nothing")]
    [InlineData("""{ "version": 2 }""", "2")]
    [InlineData("""{ "version": "1" }""", "\"1\"")]
    public void A_version_that_is_not_known_is_refused(string json, string read) => AssertOnlyProblem(json, "/version", read, "a whole number from 1 to 1");

    [Theory]
    [InlineData("spawn_run/t_base/value", "\"warm\"", "a number from -20 to 60")]
    [InlineData("spawn_run/t_base/value", "-300", "a number from -20 to 60")]
    [InlineData("spawn_run/t_base/value", "1e999", "a number from -20 to 60")]
    [InlineData("spawn_run/t_base/source", "\"  \"", "where the value comes from")]
    [InlineData("spawn_run/t_base", "5", "an object { \"value\": …, \"source\": \"…\" }")]
    [InlineData("spawn_run/q/value", "1.71", "a number from 1 to 1.7")]
    [InlineData("spawn_run/days_at_optimum/value", "0", "a number above 0 and at most 1500")]
    [InlineData("spawn_run/earliest_ready_days/value", "30.5", "a whole number above 0 and at most 1500")]
    [InlineData("spawn_run/spawn_rate/value", "-1", "a number above 0 and at most 20")]
    [InlineData("pinning/band/value", "[6, 10, 20]", "4 numbers from -20 to 60")]
    [InlineData("pinning/band/value", "\"6-26\"", "4 numbers from -20 to 60")]
    [InlineData("pinning/band/value", "[6, 10, 9, 26]", "four temperatures that do not fall, the last above the first")]
    [InlineData("pinning/band/value", "[6, 6, 6, 6]", "four temperatures that do not fall, the last above the first")]
    [InlineData("growing/killing_frost/value", "11", "a number from -30 to 10")]
    [InlineData("growing", "[]", "when pins grow")]
    [InlineData("picking_days/value", "-2", "a number above 0 and at most 1500")]
    [InlineData("triggers/soak/days/value", "0", "a whole number from 1 to 60")]
    [InlineData("triggers/soak", "12", "an object")]
    [InlineData("triggers/frost/value", "3", "null")]
    [InlineData("triggers/frost/source", "\"\"", "where this comes from")]
    [InlineData("materials/value", "[]", "keys of materials, the usual one first")]
    [InlineData("materials/value", "[1]", "keys of materials, the usual one first")]
    [InlineData("scientific_name", "7", "a binomial")]
    [InlineData("name", "\"Alder cap\"", "words by language, such as { \"en\": \"…\", \"es\": \"…\" }")]
    [InlineData("name/en", "\"\"", "English words")]
    [InlineData("name/es", "null", "words in this language")]
    [InlineData("lookalikes", "[]", "at least one fungus that can be taken for it")]
    [InlineData("lookalikes", "{}", "at least one fungus that can be taken for it")]
    [InlineData("lookalikes/0/source", "\"\"", "who says so")]
    [InlineData("lookalikes/0/tell", "null", "words by language, such as { \"en\": \"…\", \"es\": \"…\" }")]
    [InlineData("cautions", "\"Cook it.\"", "a list of cautions")]
    [InlineData("cautions/0/en", "1", "English words")]
    public void A_wrong_value_of_a_species_is_told_with_its_place_and_what_is_expected(string path, string value, string expected)
    {
        var problem = Assert.Single(ProblemsWith($"species/alder-cap/{path}", value));

        Assert.Equal($"/species/alder-cap/{path}", problem.Path);
        Assert.Equal(expected, problem.Expected);
    }

    [Theory]
    [InlineData("dry_bulk_density/value", "0", "a number above 0 and at most 1500")]
    [InlineData("porosity/value", "1", "a number above 0 and at most 0.99")]
    [InlineData("settling/value", "1", "a number from 0 to 0.95")]
    [InlineData("flush_life/value", "2.5", "a whole number from 1 to 100")]
    [InlineData("mulch_store_mm_per_cm/value", "14", "a number from 0 to 10")]
    [InlineData("decay/source", "null", "where the value comes from")]
    [InlineData("name/en", "3", "English words")]
    public void A_wrong_value_of_a_material_is_told_with_its_place_and_what_is_expected(string path, string value, string expected)
    {
        var problem = Assert.Single(ProblemsWith($"materials/alder-chips/{path}", value));

        Assert.Equal($"/materials/alder-chips/{path}", problem.Path);
        Assert.Equal(expected, problem.Expected);
    }

    [Theory]
    [InlineData("theta_low/value", "0.2", "theta_low", "below theta_water 0.19")]
    [InlineData("theta_water/value", "0.3", "theta_water", "below theta_cc 0.3")]
    [InlineData("theta_cc/value", "0.9", "theta_cc", "at most the porosity 0.87")]
    public void Water_contents_out_of_order_are_told(string path, string value, string at, string expected)
    {
        var problem = Assert.Single(ProblemsWith($"materials/alder-chips/{path}", value));

        Assert.Equal($"/materials/alder-chips/{at}", problem.Path);
        Assert.Equal(value, problem.Read);
        Assert.Equal(expected, problem.Expected);
    }

    [Theory]
    [InlineData("t_base", "24", "t_opt", "above t_base 24 and below t_ceiling 34")]
    [InlineData("t_ceiling", "24", "t_opt", "above t_base 5 and below t_ceiling 24")]
    [InlineData("t_harm", "24", "t_harm", "above t_opt 24")]
    public void Growth_temperatures_out_of_order_are_told(string changed, string value, string at, string expected)
    {
        var problem = Assert.Single(ProblemsWith($"species/alder-cap/spawn_run/{changed}/value", value));

        Assert.Equal($"/species/alder-cap/spawn_run/{at}", problem.Path);
        Assert.Equal(expected, problem.Expected);
    }

    [Fact]
    public void A_missing_value_is_told()
    {
        var file = JsonNode.Parse(OwnCatalogue.Json)!;
        file["species"]!["alder-cap"]!["spawn_run"]!.AsObject().Remove("t_opt");

        AssertOnlyProblem(file.ToJsonString(), "/species/alder-cap/spawn_run/t_opt", "nothing", "an object");
    }

    [Fact]
    public void Missing_lookalikes_are_told()
    {
        var file = JsonNode.Parse(OwnCatalogue.Json)!;
        file["species"]!["alder-cap"]!.AsObject().Remove("lookalikes");

        AssertOnlyProblem(file.ToJsonString(), "/species/alder-cap/lookalikes", "nothing", "at least one fungus that can be taken for it");
    }

    [Fact]
    public void A_misspelt_name_is_not_taken_for_one_left_out()
    {
        var problem = Assert.Single(ProblemsWith("species/alder-cap/triggers/frosts", "{}"));

        Assert.Equal("/species/alder-cap/triggers/frosts", problem.Path);
        Assert.Equal("one of cooling, frost, soak", problem.Expected);
    }

    [Fact]
    public void A_grower_s_file_cannot_change_the_covers() =>
        AssertOnlyProblem("""{ "version": 1, "covers": {} }""", "/covers", "a name that is not known here", "one of materials, species, version");

    [Fact]
    public void A_name_given_twice_is_told() =>
        AssertOnlyProblem("""{ "version": 1, "version": 1 }""", "/version", "the same name a second time", "each name once");

    [Fact]
    public void A_material_that_is_nowhere_is_told_with_those_there_are()
    {
        var problem = Assert.Single(ProblemsWith("species/alder-cap/materials/value", """["alder-chips", "moon-dust"]"""));

        Assert.Equal("/species/alder-cap/materials/value/1", problem.Path);
        Assert.Equal("\"moon-dust\"", problem.Read);
        Assert.Contains("alder-chips, cereal-straw, composted-manure", problem.Expected, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Alder Cap", "/species/Alder Cap")]
    [InlineData("alder/cap~", "/species/alder~1cap~0")] // RFC 6901 section 3
    [InlineData("-alder", "/species/-alder")]
    [InlineData("", "/species/")]
    public void A_key_that_cannot_stand_in_an_address_is_told(string key, string path)
    {
        var file = JsonNode.Parse(OwnCatalogue.Json)!;
        file["species"]![key] = file["species"]!["alder-cap"]!.DeepClone();

        AssertOnlyProblem(file.ToJsonString(), path, $"the key \"{key}\"", "a key of small letters, digits and single hyphens");
    }

    [Fact]
    public void All_that_is_wrong_is_told_at_once_a_line_each()
    {
        var file = JsonNode.Parse(OwnCatalogue.Json)!;
        file["species"]!["alder-cap"]!["spawn_run"]!["t_base"]!["value"] = "warm";
        file["species"]!["alder-cap"]!["picking_days"] = 4;
        file["materials"]!["alder-chips"]!["porosity"]!["value"] = 87;

        var exception = Assert.Throws<CatalogueException>(() => BedCatalogue.Parse(file.ToJsonString()));

        Assert.Equal(
            """
            The catalogue file has 3 problem(s):
            /materials/alder-chips/porosity/value: read 87, expected a number above 0 and at most 0.99
            /species/alder-cap/spawn_run/t_base/value: read "warm", expected a number from -20 to 60
            /species/alder-cap/picking_days: read 4, expected an object { "value": …, "source": "…" }
            """.ReplaceLineEndings("\n"),
            exception.Message);
    }

    [Fact]
    public void A_long_wrong_value_is_cut_in_the_message()
    {
        var problem = Assert.Single(ProblemsWith("species/alder-cap/scientific_name", $"[\"{new string('x', 500)}\"]"));

        Assert.Equal(61, problem.Read.Length);
        Assert.EndsWith("…", problem.Read, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "version": 1, "species": { "\ud800": {} } }""")]
    [InlineData("""{ "version": "\udfff" }""")]
    public void Half_a_character_is_told(string json) => AssertOnlyProblem(json, "", "a text with half a character, such as \\ud800", "Unicode text");

    [Fact]
    public void A_file_damaged_anywhere_is_read_or_refused_and_never_breaks_the_program()
    {
        const string bits = "{}[],:\"\\x0-9 eé\u0000\ud800";
        var damage = Gen.Select(Gen.Int[0, OwnCatalogue.Json.Length - 1], Gen.Int[0, 40], Gen.Char[bits].Array[0, 3]);

        damage.Sample((at, gone, put) =>
        {
            var json = OwnCatalogue.Json.Remove(at, Math.Min(gone, OwnCatalogue.Json.Length - at)).Insert(at, new string(put));
            try
            {
                return BedCatalogue.Parse(json).Species.Count <= 1;
            }
            catch (CatalogueException exception)
            {
                return exception.Problems.Count > 0;
            }
        });
    }

    private static void AssertOnlyProblem(string json, string path, string read, string expected)
    {
        var problem = Assert.Single(Assert.Throws<CatalogueException>(() => BedCatalogue.Parse(json)).Problems);

        Assert.Equal(path, problem.Path);
        Assert.Equal(read, problem.Read);
        Assert.StartsWith(expected, problem.Expected, StringComparison.Ordinal);
    }

    private static IReadOnlyList<CatalogueProblem> ProblemsWith(string path, string value)
    {
        // Numbers such as 1e999 must reach the reader as written, so the value is put in as text.
        const string placeholder = "\"\\u0000\"";
        var file = JsonNode.Parse(OwnCatalogue.Json)!;
        var steps = path.Split('/');
        var owner = steps[..^1].Aggregate(file, (node, step) => int.TryParse(step, out var index) ? node[index]! : node[step]!);
        owner[steps[^1]] = "\0";
        var json = file.ToJsonString().Replace(placeholder, value, StringComparison.Ordinal);
        return Assert.Throws<CatalogueException>(() => BedCatalogue.Parse(json)).Problems;
    }
}
