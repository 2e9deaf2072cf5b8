using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Tests.Text;

public class WordsTests
{
    [Theory]
    [InlineData("en", "en")]
    [InlineData("es", "es")]
    [InlineData("es-MX", "es")]
    [InlineData("ES", "es")]
    [InlineData("fr", "en")]
    [InlineData("", "en")]
    public void A_language_is_found_by_its_first_part_and_an_unknown_one_gets_English(string asked, string given) =>
        Assert.Equal(given, Words.For(asked).Language);

    [Fact]
    public void Numbers_and_dates_are_written_as_the_language_writes_them()
    {
        Assert.Equal("1,234.5", Words.For("en").Number(1234.51, 1));
        Assert.Equal("12.345,5", Words.For("es").Number(12345.51, 1));
        Assert.Equal("Monday 3 March", Words.For("en").Date(new LocalDate(2025, 3, 3)));
        Assert.Equal("lunes 3 de marzo", Words.For("es").Date(new LocalDate(2025, 3, 3)));
        Assert.Equal("3 March", Words.For("en").ShortDate(new LocalDate(2025, 3, 3)));
        Assert.Equal("3 de marzo", Words.For("es").ShortDate(new LocalDate(2025, 3, 3)));
    }

    [Fact]
    public void A_rounded_minus_zero_is_zero()
    {
        Assert.Equal("0\u00a0°C", Words.For("en").Temperature(-0.3));
        Assert.Equal("-2\u00a0°C", Words.For("en").Temperature(-1.6));
    }

    [Fact]
    public void Halves_are_rounded_away_from_zero() => Assert.Equal("13", Words.For("en").Number(12.5));
}
