using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Model.Tests.Outlooks;

public class EventOutlookTests
{
    private static readonly LocalDate s_today = new(2026, 10, 1);
    private static readonly EventOutlook s_outlook = new(s_today, 10, [0, 1, 1, 4, 5, 9, 9]);

    [Fact]
    public void A_chance_is_never_none_and_never_certain()
    {
        // (k + ½)/(n + 1): bed physics of the account aside, the rule of Weibull-type plotting positions for k of n.
        Assert.Equal(0.5 / 11, s_outlook.ChanceBy(s_today), 15);
        Assert.Equal(9.5 / 11, s_outlook.ChanceBy(s_today.PlusDays(6)), 15);
        Assert.Equal(10.5 / 11, new EventOutlook(s_today, 10, [10]).ChanceBy(s_today), 15);
    }

    [Fact]
    public void A_day_beyond_the_outlook_has_the_count_of_its_last_day_and_one_before_it_none()
    {
        Assert.Equal(9, s_outlook.CountBy(s_today.PlusDays(40)));
        Assert.Equal(0, s_outlook.CountBy(s_today.PlusDays(-1)));
    }

    [Theory]
    [InlineData(0.1, 1)]
    [InlineData(0.11, 3)]
    [InlineData(0.5, 4)]
    [InlineData(0.9, 5)]
    public void The_date_of_a_share_is_the_first_day_that_so_many_futures_have_reached(double share, int day) =>
        Assert.Equal(s_today.PlusDays(day), s_outlook.DateOf(share));

    [Fact]
    public void A_share_that_the_outlook_does_not_reach_has_no_date() => Assert.Null(s_outlook.DateOf(0.95));
}
