using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Tests.Season;

public class SeasonWordsTests
{
    private static readonly Words s_english = Words.For("en");
    private static readonly Words s_spanish = Words.For("es");
    private static readonly LocalDate s_april = new(2027, 4, 12);

    [Fact]
    public void Every_reason_fit_and_note_has_words_of_its_own_in_each_language()
    {
        var notes = Enum.GetValues<PlannerNoteCode>().Select(code => new PlannerNote(code, [3, 52], s_april)).ToList();
        foreach (var words in Words.All)
        {
            Different(Enum.GetValues<NoPickReason>().Select(words.NameOf));
            Different(Enum.GetValues<SiteFit>().Select(words.NameOf));
            Different(Enum.GetValues<SiteFit>().Select(fit => words.SeasonFit(fit, 2, 3)));
            Different(notes.Select(words.SeasonNote));
        }

        Assert.Empty(notes.Select(s_english.SeasonNote).Intersect(notes.Select(s_spanish.SeasonNote)));
        Assert.Empty(Enum.GetValues<NoPickReason>().Select(s_english.NameOf).Intersect(Enum.GetValues<NoPickReason>().Select(s_spanish.NameOf)));

        static void Different(IEnumerable<string> texts)
        {
            var all = texts.ToList();
            Assert.All(all, text => Assert.NotEmpty(text));
            Assert.Equal(all.Count, all.Distinct().Count());
        }
    }

    [Fact]
    public void A_note_carries_its_numbers_and_one_that_lacks_years_says_how_to_add_them()
    {
        Assert.Equal(
            "The measured weather of this site covers 240 days, too short to follow a bed for 500 days. "
            + "To add years, hand in a file of past years' daily weather (highest and lowest temperature, rain) as the site's history feed.",
            s_english.SeasonNote(new PlannerNote(PlannerNoteCode.NoWholeRun, [240, 500])));
        Assert.StartsWith("Nothing measured is known", s_english.SeasonNote(new PlannerNote(PlannerNoteCode.NoWholeRun, [0, 500])), StringComparison.Ordinal);
        Assert.Contains("fuente histórica del sitio", s_spanish.SeasonNote(new PlannerNote(PlannerNoteCode.OneYearOnly, [30])), StringComparison.Ordinal);
        Assert.StartsWith("One past bed was left out", s_english.SeasonNote(new PlannerNote(PlannerNoteCode.RunsLeftOut, [1, 150])), StringComparison.Ordinal);
        Assert.Contains("12 April 2027", s_english.SeasonNote(new PlannerNote(PlannerNoteCode.WeatherStops, [900], s_april)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_start_is_told_with_its_years_its_days_and_its_water()
    {
        Assert.Equal(
            "Start in the week of 12 April: 3 of 3 years gave a first pick within 12 months, between 9 June and 2 July; 14\u00a0waterings, 85\u00a0L/m².",
            s_english.SeasonStart(s_april, 3, 3, (new LocalDate(2027, 6, 9), new LocalDate(2027, 7, 2)), 14, 85.2));
        Assert.Equal(
            "Empezar en la semana del 12 de abril: en 2 de 3 años hubo una primera cosecha en 12 meses, entre el 20 de diciembre y el 3 de enero de 2028; 1\u00a0riego, 20\u00a0L/m².",
            s_spanish.SeasonStart(s_april, 2, 3, (new LocalDate(2027, 12, 20), new LocalDate(2028, 1, 3)), 1, 20));
        Assert.Contains("1 of 1 year gave a first pick within 12 months, around 3 January 2028;", s_english.SeasonStart(s_april, 1, 1, (new LocalDate(2028, 1, 3), new LocalDate(2028, 1, 3)), 1, 20), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("en", "never says that a mushroom is safe", "with certainty", "lookalikes", "spore print", "local expert", "Cook before eating", "small portion first", "local food law")]
    [InlineData("es", "nunca dice que una seta sea segura", "con certeza", "parecidas", "esporada", "persona experta", "Cocinar antes de comer", "porción pequeña", "normativa alimentaria local")]
    public void All_that_must_be_said_before_eating_is_said(string language, params string[] parts)
    {
        var caution = Words.For(language).SeasonEating;
        Assert.All(parts, part => Assert.Contains(caution, sentence => sentence.Contains(part, StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("composted-manure", "Raw manure", "estiércol")]
    [InlineData("hardwood-chips", "never treated", "nunca tratada")]
    [InlineData("sawdust", "never treated", "nunca tratada")]
    [InlineData("cereal-straw", "sprayed with", "con qué se trató")]
    [InlineData("shredded-leaves", "Leaves:", "Hojas:")]
    [InlineData("leaf-mould", "Leaves:", "Hojas:")]
    public void Each_material_has_its_caution_and_no_other_has_it(string material, string english, string spanish)
    {
        Assert.Contains(material, BedCatalogue.BuiltIn.Materials.Keys);
        Assert.Contains(english, Said(s_english, material), StringComparison.Ordinal);
        Assert.Contains(spanish, Said(s_spanish, material), StringComparison.Ordinal);
        Assert.DoesNotContain(english, Said(s_english), StringComparison.Ordinal);
        Assert.Contains("Local rules on food safety, water and open ground come first.", Said(s_english), StringComparison.Ordinal);

        static string Said(Words words, params string[] materials) => string.Join(' ', words.SeasonMaterialCautions(materials));
    }

    [Fact]
    public void Every_material_of_the_catalogue_has_a_caution_of_its_own()
    {
        var always = s_english.SeasonMaterialCautions([]).Count;
        Assert.All(BedCatalogue.BuiltIn.Materials.Keys, key => Assert.Equal(always + 1, s_english.SeasonMaterialCautions([key]).Count));
    }
}
