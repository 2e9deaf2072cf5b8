using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Text;

public class EatingCautionTests
{
    public static TheoryData<string, string> SpeciesAndLanguages
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var key in BedCatalogue.BuiltIn.Species.Keys)
            {
                foreach (var words in Words.All)
                    data.Add(key, words.Language);
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(SpeciesAndLanguages))]
    public void It_names_every_dangerous_lookalike_with_its_danger_and_how_to_tell(string key, string language)
    {
        var species = BedCatalogue.BuiltIn.Species[key];
        var caution = string.Join('\n', Words.For(language).EatingCaution(species));

        Assert.NotEmpty(species.Lookalikes);
        foreach (var lookalike in species.Lookalikes.Select(l => l.InLanguage(language)))
        {
            Assert.Contains(lookalike.Name, caution);
            Assert.Contains(lookalike.Danger, caution);
            Assert.Contains(lookalike.Tell, caution);
        }

        Assert.All(species.Cautions, own => Assert.Contains(own.TextIn(language), caution));
    }

    [Theory]
    [InlineData("en", "never says that a mushroom is safe", "with certainty", "spore print", "local expert", "Cook before eating", "small portion first", "local food law")]
    [InlineData("es", "nunca dice que una seta sea segura", "con certeza", "esporada", "persona experta", "Cocinar antes de comer", "porción pequeña", "normativa alimentaria local")]
    public void It_says_all_that_must_be_said_before_eating(string language, params string[] parts)
    {
        var caution = Words.For(language).EatingCaution(BedCatalogue.BuiltIn.Species["wine-cap"]);

        Assert.All(parts, part => Assert.Contains(caution, sentence => sentence.Contains(part, StringComparison.Ordinal)));
        Assert.All(caution, sentence => Assert.EndsWith(".", sentence));
        Assert.DoesNotContain("..", string.Join(' ', caution));
    }

    [Fact]
    public void Pins_and_harvest_need_it_and_nothing_else_does() =>
        Assert.Equal([NoticeKind.ExpectPins, NoticeKind.ExpectHarvest], Enum.GetValues<NoticeKind>().Where(kind => kind.NeedsEatingCaution()));
}
