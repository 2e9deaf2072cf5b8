using CsCheck;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Notices;

public class NoticeBookTests
{
    private static BedStory Dry() => new BedStory().Then(60, 24, 12);

    [Fact]
    public void There_is_one_rule_for_every_kind() =>
        Assert.Equal(Enum.GetValues<NoticeKind>().Order(), NoticeRules.All.Select(rule => rule.Kind).Order());

    [Fact]
    public void Reasons_are_equal_by_their_numbers()
    {
        var one = NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, 0.3));

        Assert.Equal(one, NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, 0.3)));
        Assert.NotEqual(one, NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, 0.4)));
        Assert.NotEqual(one, NoticeReason.Of(ReasonCode.DryAhead, (ReasonNumber.Moisture, 0.3)));
    }

    [Fact]
    public void Two_open_notices_of_a_kind_are_refused()
    {
        var shelf = new Shelf();
        shelf.Take(Dry().On(5));
        var twice = shelf.Open.Concat(shelf.Open).ToList();

        Assert.Throws<ArgumentException>(() => NoticeBook.Reconcile(Dry().On(5), twice, []));
    }

    [Fact]
    public void A_morning_before_the_bed_was_laid_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new BedMorning(Dry().On(0).Account, Dry().DayAt(-1), [], []));

    [Fact]
    public void Without_a_forecast_nothing_that_looks_ahead_is_opened_or_withdrawn()
    {
        var shelf = new Shelf();
        shelf.Take(Dry().On(5));
        Assert.Contains(shelf.Open, n => n.Kind == NoticeKind.Water);

        // The weather stops yesterday.
        var story = new BedStory { ForecastDays = 0 };
        var blind = story.Then(60, 24, 12).On(6);
        Assert.All(shelf.Take(blind), outcome => Assert.IsType<NoticeKept>(outcome));
        Assert.Empty(new Shelf().Take(blind));
    }

    [Fact]
    public void On_the_day_of_inoculation_there_is_a_morning_too() =>
        Assert.All(new Shelf().Take(Dry().On(0)), outcome => Assert.Equal(NoticeKind.CoverOn, outcome.Kind));

    [Fact]
    public void What_was_closed_today_is_not_opened_again_today()
    {
        var shelf = new Shelf();
        shelf.Opens(Dry().On(5), NoticeKind.Water);
        var rain = new BedStory().Then(6, 24, 12).Then(1, 16, 12, rain: 30).Then(20, 24, 12);
        shelf.Closes(rain.On(5), NoticeKind.Water, NoticeEnd.Withdrawn, ClosingCode.RainComing);

        Assert.Null(shelf.Take(Dry().On(5), NoticeKind.Water));
        Assert.Equal(2, Assert.IsType<NoticeOpened>(shelf.Take(Dry().On(6), NoticeKind.Water)).Episode);
    }

    [Fact]
    public void An_old_forecast_and_a_far_day_make_a_notice_less_sure()
    {
        var fresh = Dry().On(5);
        var old = new BedStory { ForecastAge = 2 }.Then(60, 24, 12).On(5);

        Assert.Equal(NoticeConfidence.Firm, Certainty.On(fresh, fresh.Today.PlusDays(1)));
        Assert.Equal(NoticeConfidence.Likely, Certainty.On(fresh, fresh.Today.PlusDays(2)));
        Assert.Equal(NoticeConfidence.Possible, Certainty.On(fresh, fresh.Today.PlusDays(5)));
        Assert.Equal(NoticeConfidence.Likely, Certainty.On(old, old.Today.PlusDays(1)));
    }

    // Any weather, any log, any forecasts that turn out otherwise, some mornings left out: the book stays in order.

    private static readonly Gen<(double Mean, double Range, double Rain)> s_weather =
        Gen.Select(Gen.Double[-8, 34], Gen.Double[2, 20], Gen.OneOf(Gen.Const(0.0), Gen.Double[0, 8], Gen.Double[0, 60]));

    private static readonly Gen<int> s_entry = Gen.Int[0, 40];

    private static readonly string[] s_beds =
        ["wine-cap/hardwood-chips", "oyster-pink/cereal-straw", "wood-blewit/leaf-mould", "almond-agaricus/composted-manure"];

    private static readonly Gen<string> s_bed = Gen.Int[0, s_beds.Length - 1].Select(i => s_beds[i]);

    [Fact]
    public void Any_run_of_mornings_opens_each_episode_once_and_at_most_one_notice_of_a_kind() =>
        Gen.Select(s_bed, s_weather.Array[12, 60], s_weather.Array[14], s_entry.Array[60], Gen.Bool).Sample(
            (bed, truth, surprise, entries, skips) =>
            {
                var shelf = new Shelf();
                var episodes = new HashSet<(NoticeKind, int)>();
                for (var day = 0; day < truth.Length; day += skips ? 2 : 1)
                {
                    var morning = Story(bed, truth, surprise, entries, day).On(day);
                    var first = shelf.Take(morning);
                    foreach (var opened in first.OfType<NoticeOpened>())
                        Assert.True(episodes.Add((opened.Kind, opened.Episode)), $"{opened.Kind} {opened.Episode} was opened twice.");
                    Assert.Equal(first.Count, first.Select(o => o.Kind).Distinct().Count());
                    Assert.Equal(shelf.Open.Count, shelf.Open.Select(n => n.Kind).Distinct().Count());

                    var again = shelf.Take(morning);
                    Assert.All(again, outcome => Assert.IsType<NoticeKept>(outcome));
                    Assert.Equal(shelf.Open.Count, again.Count);
                }
            },
            iter: 200);

    [Fact]
    public void Whatever_opens_a_notice_keeps_it() =>
        Gen.Select(s_bed, s_weather.Array[12, 60], s_weather.Array[14], s_entry.Array[60]).Sample(
            (bed, truth, surprise, entries) =>
            {
                for (var day = 1; day < truth.Length; day += 3)
                {
                    var morning = Story(bed, truth, surprise, entries, day).On(day);
                    foreach (var rule in NoticeRules.All.Where(rule => rule.LooksAhead))
                    {
                        if (rule.Holds(morning, null, null) is not { } draft)
                            continue;
                        // Told this morning; a notice told earlier may have come true since.
                        var open = new OpenNotice(1, draft.Kind, 1, morning.Today, draft.Day, draft.Deadline, draft.Amount, draft.Reason);
                        Assert.Equal(draft, rule.Holds(morning, open, null));
                        Assert.False(rule.WorthTelling(morning, open, draft));
                        Assert.True(draft.Deadline >= morning.Today, $"{draft.Kind} is told too late.");
                    }
                }
            },
            iter: 200);

    /// <summary>The bed as known on a day: the truth up to yesterday, then a forecast that mixes truth with what does not come.</summary>
    private static BedStory Story(
        string bed, (double Mean, double Range, double Rain)[] truth, (double Mean, double Range, double Rain)[] surprise, int[] entries, int day)
    {
        var names = bed.Split('/');
        var story = new BedStory(names[0], names[1], "2025-03-01");
        for (var i = 0; i < day + story.ForecastDays; i++)
        {
            var (mean, range, rain) = i < day || (i % 3 != 0 && i < truth.Length) ? truth[i] : surprise[(i - day) % surprise.Length];
            story.Then(new WeatherDay(LocalDate.MinIsoValue, mean + range / 2, mean - range / 2, rain));
        }

        for (var i = 0; i < day; i++)
        {
            if (Entry(entries[i]) is { } entry)
                story.Logged(i, entry);
        }

        return story;
    }

    private static Func<LocalDate, LogEntry>? Entry(int number) => number switch
    {
        0 => d => new WaterGiven(d, 12),
        1 => d => new CoverChanged(d, Cover.Sheet),
        2 => d => new CoverChanged(d, Cover.None),
        3 => d => new MyceliumSeen(d, 1),
        4 => d => new PinsSeen(d),
        5 => d => new Picked(d, 1),
        6 => d => new FlushOver(d),
        7 => d => new SqueezeTest(d, Squeeze.Dripping),
        8 => d => new SqueezeTest(d, Squeeze.Crumbles),
        9 => d => new ContaminationSeen(d),
        _ => null,
    };
}
