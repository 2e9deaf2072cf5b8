using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Tests.Text;

public class OutlookWordsTests
{
    private static readonly LocalDate s_today = new(2026, 10, 14);
    private static readonly LocalDate s_last = new(2027, 2, 10);
    private static readonly Words s_english = Words.For("en");
    private static readonly Words s_spanish = Words.For("es");

    /// <summary>k of n futures in whole per cent by (k + ½)/(n + 1): never none, never all.</summary>
    [Theory]
    [InlineData(0, 64, "1\u00a0%")]
    [InlineData(0, 120, "<1\u00a0%")]
    [InlineData(32, 64, "50\u00a0%")]
    [InlineData(63, 64, "98\u00a0%")]
    [InlineData(64, 64, "99\u00a0%")]
    [InlineData(120, 120, ">99\u00a0%")]
    [InlineData(1, 2, "50\u00a0%")]
    public void A_chance_is_told_in_whole_per_cent_and_never_as_none_or_all(int k, int n, string told)
    {
        Assert.Equal(told, s_english.Chance(k, n));
        Assert.Equal(told, s_spanish.Chance(k, n));
    }

    [Fact]
    public void No_number_of_futures_makes_a_chance_of_0_or_100()
    {
        for (var n = 1; n <= 400; n++)
        {
            for (var k = 0; k <= n; k++)
                Assert.DoesNotMatch("^(0|100)\u00a0%$", s_english.Chance(k, n));
        }
    }

    [Theory]
    [InlineData(FutureSource.Dressed, true, "64 futures: the forecast to 24 October with the errors that such forecasts have, then the weather of 6 past years (2010–2015).")]
    [InlineData(FutureSource.Dressed, false, "64 futures: the forecast to 24 October with the errors that such forecasts have.")]
    [InlineData(FutureSource.Ensemble, true, "64 futures: the members of the forecast's own ensemble, to 24 October, then the weather of 6 past years (2010–2015).")]
    [InlineData(FutureSource.PastYears, true, "64 futures, without a forecast: the weather of 6 past years (2010–2015) from today on.")]
    public void Where_the_futures_come_from_is_said_in_one_sentence(FutureSource source, bool past, string told) =>
        Assert.Equal(told, s_english.OutlookFutures(64, source, new LocalDate(2026, 10, 24), past ? [2010, 2011, 2012, 2013, 2014, 2015] : []));

    [Fact]
    public void Years_with_others_missing_between_them_are_named_one_by_one() => Assert.Contains(
        "(2011, 2014 and 2015)",
        s_english.OutlookFutures(64, FutureSource.PastYears, s_today, [2011, 2014, 2015]),
        StringComparison.Ordinal);

    [Fact]
    public void A_window_is_told_with_its_chance_and_as_open_where_the_outlook_ends_before()
    {
        Assert.Equal("16 October to 18 October; 95\u00a0% by 10 February", s_english.OutlookWindow(By(0, 0, 2, 8, 10), s_last));
        Assert.Equal("from 16 October on; 59\u00a0% by 10 February", s_english.OutlookWindow(By(0, 0, 2, 3, 6), s_last));
        Assert.Equal("unlikely: 5\u00a0% by 10 February", s_english.OutlookWindow(By(0, 0, 0, 0, 0), s_last));
        Assert.Equal("14 October; 95\u00a0% by 10 February", s_english.OutlookWindow(By(10, 10, 10, 10, 10), s_last));
        Assert.Equal("del 16 de octubre al 18 de octubre; 95\u00a0% hasta el 10 de febrero", s_spanish.OutlookWindow(By(0, 0, 2, 8, 10), s_last));

        static EventOutlook By(params int[] counts) => new(s_today, 10, counts);
    }

    [Fact]
    public void Everything_that_can_be_said_of_an_outlook_differs_between_the_languages()
    {
        AssertSaid(words => Enum.GetValues<FutureNoteCode>().Select(code => words.OutlookNote(Note(code))));
        AssertSaid(words => Enum.GetValues<FutureNoteCode>().Select(code => words.OutlookNote(Note(code, 1, 1))), alike: true);
        AssertSaid(words => Enum.GetValues<OutlookProblem>().Where(problem => problem != OutlookProblem.None).Select(words.OutlookMissing));
        AssertSaid(words => Enum.GetValues<OutlookEvent>().Select(words.NameOf));
        AssertSaid(words => Enum.GetValues<CourseVerdict>().Select(words.NameOf));
        AssertSaid(words => Enum.GetValues<WhatCounts>().Select(counts => words.OutlookCompared(14, s_today, counts)));
        AssertSaid(words => Enum.GetValues<FutureSource>().Select(source => words.OutlookFutures(64, source, s_today, [2024, 2025])));
        AssertSaid(words => new[] { Cover.None, Cover.Sheet }.Select(words.OutlookCovered));
        AssertSaid(words => [words.OutlookIsShort, words.OutlookIsLikelihood, words.OutlookWaterSaid, words.OutlookDay(null, s_last), words.OutlookWatered(25)]);
    }

    [Fact]
    public void A_note_carries_its_numbers()
    {
        Assert.Equal("Left out for holes that could not be filled: 3 of the ensemble's 31 members.", s_english.OutlookNote(Note(FutureNoteCode.MembersLeftOut, 3, 31)));
        Assert.Equal("The ensemble's members end on different days, after 7 to 15 days. The shorter ones go on with past years sooner.", s_english.OutlookNote(Note(FutureNoteCode.MembersUnequal, 7, 15)));
        Assert.Equal("Not used for their holes, more than a tenth of the days: 2009 and 2014.", s_english.OutlookNote(Note(FutureNoteCode.HistoryHoles, 2009, 2014)));
        Assert.Equal("1 day missing in the forecast had to be filled in.", s_english.OutlookNote(Note(FutureNoteCode.ForecastDaysMissing, 1)));
    }

    private static FutureNote Note(FutureNoteCode code, int one = 3, int other = 9) => new(code, [one, other], s_today);

    private static void AssertSaid(Func<Words, IEnumerable<string>> say, bool alike = false)
    {
        var (english, spanish) = (say(s_english).ToList(), say(s_spanish).ToList());
        if (!alike)
        {
            Assert.Equal(english.Count, english.Distinct().Count());
            Assert.Equal(spanish.Count, spanish.Distinct().Count());
        }

        Assert.All(english.Zip(spanish), pair => Assert.NotEqual(pair.First, pair.Second));
        Assert.All(english.Concat(spanish), text =>
        {
            Assert.False(string.IsNullOrWhiteSpace(text));
            Assert.DoesNotMatch("[{}]|  |NaN|∞", text);
        });
    }
}
