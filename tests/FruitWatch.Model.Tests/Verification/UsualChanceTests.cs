using CsCheck;
using FruitWatch.Model.Verification;
using NodaTime;

namespace FruitWatch.Model.Tests.Verification;

public class UsualChanceTests
{
    private static readonly Gen<SeasonOutcome> s_outcome = Gen.Select(Gen.Int[0, 1460], Gen.Bool, (day, came) =>
    {
        var date = new LocalDate(2020, 1, 1).PlusDays(day);
        return new SeasonOutcome(date, date.Year, came);
    });

    [Fact]
    public void The_own_season_does_not_count()
    {
        SeasonOutcome[] outcomes =
        [
            .. Enumerable.Range(0, 30).Select(i => new SeasonOutcome(new LocalDate(2024, 5, 1).PlusDays(i), 2024, true)),
            .. Enumerable.Range(0, 30).Select(i => new SeasonOutcome(new LocalDate(2025, 5, 1).PlusDays(i), 2025, i < 6)),
        ];

        var usual = UsualChance.LeaveOneSeasonOut(outcomes);

        Assert.All(usual.Take(30), chance => Assert.Equal(0.2, chance));
        Assert.All(usual.Skip(30), chance => Assert.Equal(1, chance));
    }

    [Fact]
    public void Nineteen_outcomes_are_too_few_and_twenty_enough()
    {
        var day = new LocalDate(2024, 5, 1);

        Assert.Null(UsualChance.LeaveOneSeasonOut([new(day.PlusYears(1), 2025, false), .. Enumerable.Repeat(new SeasonOutcome(day, 2024, true), 19)])[0]);
        Assert.Equal(1, UsualChance.LeaveOneSeasonOut([new(day.PlusYears(1), 2025, false), .. Enumerable.Repeat(new SeasonOutcome(day, 2024, true), 20)])[0]);
    }

    [Theory]
    [InlineData(30, 1.0)]
    [InlineData(31, null)]
    [InlineData(-30, 1.0)]
    [InlineData(-31, null)]
    public void Thirty_days_apart_is_the_same_time_of_the_year_over_new_year_too(int apart, double? usual)
    {
        var day = new LocalDate(2023, 1, 10);
        var other = day.PlusYears(1).PlusDays(apart);

        Assert.Equal(usual, UsualChance.LeaveOneSeasonOut([new(day, 2023, false), .. Enumerable.Repeat(new SeasonOutcome(other, 2024, true), 20)])[0]);
    }

    /// <summary>Counted by season and day of the year; the plain way is to look at every other outcome.</summary>
    [Fact]
    public void Agrees_with_looking_at_every_other_outcome() => s_outcome.Array[0, 150].Sample(outcomes =>
    {
        var usual = UsualChance.LeaveOneSeasonOut(outcomes);
        for (var i = 0; i < outcomes.Length; i++)
        {
            var others = outcomes.Where(o => o.Season != outcomes[i].Season && Apart(o.Issued, outcomes[i].Issued) <= 30).ToList();
            Assert.Equal(others.Count < 20 ? null : (double?)others.Count(o => o.PinsCame) / others.Count, usual[i]);
        }
    });

    private static int Apart(LocalDate one, LocalDate other)
    {
        var apart = Math.Abs(DayOf(one) - DayOf(other));
        return Math.Min(apart, 365 - apart);
    }

    private static int DayOf(LocalDate date) => new AnnualDate(date.Month, date.Day).InYear(2021).DayOfYear;
}
