using CsCheck;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Verification;
using NodaTime;

namespace FruitWatch.Model.Tests.Verification;

public class PinsLogTests
{
    private static readonly LocalDate s_issued = new(2026, 5, 10);

    [Theory]
    [InlineData(0, true)] // seen on the day of issue, after the morning
    [InlineData(6, true)]
    [InlineData(7, false)] // seen for the first time on the day after: there were none before
    [InlineData(40, false)]
    public void Pins_answer_by_the_day_on_which_they_were_seen(int day, bool came)
    {
        var answer = Of(7, new PinsSeen(s_issued.PlusDays(day)));

        Assert.Equal(new PinsAnswer(came, s_issued.PlusDays(day), s_issued.PlusDays(day)), answer);
    }

    [Theory]
    [InlineData(5, false)] // the last two days are not known
    [InlineData(6, true)]
    [InlineData(20, true)]
    public void A_look_that_found_none_answers_once_the_lead_is_over(int day, bool answered)
    {
        var answer = Of(7, new NoPinsFound(s_issued.PlusDays(day)));

        Assert.Equal(answered ? new PinsAnswer(false, null, s_issued.PlusDays(day)) : null, answer);
    }

    [Fact]
    public void Pins_after_a_look_that_found_none_give_the_day()
    {
        var answer = Of(7, new NoPinsFound(s_issued.PlusDays(8)), new PinsSeen(s_issued.PlusDays(15)));

        Assert.Equal(new PinsAnswer(false, s_issued.PlusDays(15), s_issued.PlusDays(15)), answer);
    }

    [Fact]
    public void A_look_in_the_morning_does_not_deny_pins_of_the_evening()
    {
        var day = s_issued.PlusDays(6);

        Assert.True(Assert.NotNull(Of(7, new NoPinsFound(day), new PinsSeen(day) { Time = new LocalTime(19, 0) })).Came);
    }

    [Fact]
    public void Mushrooms_picked_whose_pins_nobody_noted_answer_nothing()
    {
        Assert.Null(Of(7, new Picked(s_issued.PlusDays(5), 1)));
        Assert.Null(Of(7, new Picked(s_issued.PlusDays(9), 1), new NoPinsFound(s_issued.PlusDays(20))));
        Assert.Null(Of(7, new NoPinsFound(s_issued.PlusDays(3)), new Picked(s_issued.PlusDays(12), 1)));
    }

    [Fact]
    public void What_was_picked_after_a_look_that_answered_does_not_matter()
    {
        Assert.Equal(
            new PinsAnswer(false, null, s_issued.PlusDays(8)),
            Of(7, new NoPinsFound(s_issued.PlusDays(8)), new Picked(s_issued.PlusDays(25), 1)));
    }

    [Fact]
    public void What_happened_before_the_issue_and_what_is_no_look_answers_nothing()
    {
        Assert.Null(Of(
            7,
            new PinsSeen(s_issued.PlusDays(-1)),
            new NoPinsFound(s_issued.PlusDays(-1)),
            new WaterGiven(s_issued.PlusDays(9), 10),
            new SqueezeTest(s_issued.PlusDays(10), Squeeze.Right)));
    }

    /// <summary>A longer lead never turns pins that came into none, nor an order of entries into another answer.</summary>
    [Fact]
    public void A_longer_lead_keeps_a_yes_and_the_order_of_the_log_does_not_matter() => Gen.Select(
        Gen.Select(Gen.Int[-5, 40], Gen.Int[0, 2]).Array[0, 8], Gen.Int[1, 30]).Sample((entries, lead) =>
        {
            LogEntry[] log = [.. entries.DistinctBy(e => e.Item1).Select(e => Entry(s_issued.PlusDays(e.Item1), e.Item2))];

            var answer = Of(lead, log);

            Assert.Equal(answer, Of(lead, [.. log.Reverse()]));
            if (answer is { Came: true })
                Assert.True(Of(lead + 5, log)!.Value.Came);
        });

    [Fact]
    public void Seasons_turn_in_the_winter_of_either_hemisphere()
    {
        Assert.Equal((2026, 2026, 2027), (GrowingSeason.Of(new(2026, 1, 1), 47), GrowingSeason.Of(new(2026, 12, 31), 47), GrowingSeason.Of(new(2027, 1, 1), 47)));
        Assert.Equal((2026, 2027, 2027), (GrowingSeason.Of(new(2026, 6, 30), -41), GrowingSeason.Of(new(2026, 7, 1), -41), GrowingSeason.Of(new(2027, 1, 1), -41)));
    }

    private static LogEntry Entry(LocalDate date, int kind) =>
        kind switch { 0 => new PinsSeen(date), 1 => new NoPinsFound(date), _ => new Picked(date, 1) };

    private static PinsAnswer? Of(int lead, params LogEntry[] log) => new PinsLog(log).Of(s_issued, lead);
}
