using FruitWatch.Model.Learning;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Text;

public class LearnedWordsTests
{
    private static readonly LearnedMultiplier s_dry = new(1.2, 0.95, 1.19, 1.52);
    private static readonly LearnedMultiplier s_slow = new(0.8, 0.61, 0.8, 1.04);

    [Fact]
    public void What_was_learned_is_told_with_its_range_and_with_what_it_rests_on()
    {
        var learned = new LearnedBed(s_dry, s_slow, new LearnedFrom(6, 0, 1, 2), LogDisagrees: false);

        Assert.Equal(
            "From 6 squeeze tests, 1 look at the mycelium and 2 days of pins: against the usual bed this one dries about 1.2 times as fast "
            + "(1 to 1.5) and grows about 0.8 times as fast (0.6 to 1). The ranges hold for 9 of 10 such beds.",
            Words.For("en").LearnedSaid(learned));
        Assert.StartsWith("Con 6 pruebas del puño, 1 mirada al micelio y 2 días de primordios: ", Words.For("es").LearnedSaid(learned), StringComparison.Ordinal);
        Assert.Contains("de 0,6 a 1)", Words.For("es").LearnedSaid(learned), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("en", "Nothing yet.")]
    [InlineData("es", "Nada todavía.")]
    public void With_nothing_seen_it_says_what_would_teach_it(string language, string starts) => Assert.StartsWith(
        starts, Words.For(language).LearnedSaid(new LearnedBed(s_dry, s_slow, default, LogDisagrees: false)), StringComparison.Ordinal);
}
