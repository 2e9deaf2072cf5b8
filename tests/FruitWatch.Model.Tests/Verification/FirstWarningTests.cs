using FruitWatch.Model.Verification;
using NodaTime;

namespace FruitWatch.Model.Tests.Verification;

public class FirstWarningTests
{
    private static readonly LocalDate s_pins = new(2026, 5, 20);

    [Fact]
    public void Days_run_from_the_first_warning_that_was_not_taken_back()
    {
        // Warned 9 days before, taken back, warned again 6 days before and from then on.
        var days = LeadDays(7, (9, 0.6), (8, 0.3), (6, 0.5), (4, 0.8), (1, 0.9));

        Assert.Equal([null, null, 6, null, null], days);
    }

    [Fact]
    public void A_warning_may_come_before_the_lead_and_counts_from_its_own_day()
    {
        // False alarms at 12 and 9 days, a hit from 6 days on: the pins are counted once, there.
        Assert.Equal([null, null, 12, null], LeadDays(7, (12, 0.6), (9, 0.7), (6, 0.8), (3, 0.9)));
    }

    [Fact]
    public void The_lead_includes_the_day_of_issue()
    {
        Assert.Equal([null], LeadDays(7, (7, 0.9)));
        Assert.Equal([6], LeadDays(7, (6, 0.9)));
        Assert.Equal([0], LeadDays(7, (0, 0.9)));
    }

    [Fact]
    public void Pins_that_nobody_announced_have_no_warning()
    {
        Assert.Equal([null, null], LeadDays(7, (4, 0.8), (1, 0.49)));
    }

    [Fact]
    public void Each_flush_has_its_own_first_warning()
    {
        var later = s_pins.PlusDays(30);
        IssuedChance[] forecasts =
        [
            new(s_pins.PlusDays(-2), 0.9, s_pins),
            new(later.PlusDays(-5), 0.9, later),
            new(later.PlusDays(-3), 0.9, later),
            new(later.PlusDays(5), 0.9, null),
        ];

        Assert.Equal([2, 5, null, null], FirstWarning.LeadDays(forecasts, 7));
    }

    private static IReadOnlyList<int?> LeadDays(int lead, params (int DaysBefore, double Chance)[] forecasts) =>
        FirstWarning.LeadDays([.. forecasts.Select(f => new IssuedChance(s_pins.PlusDays(-f.DaysBefore), f.Chance, s_pins))], lead);
}
