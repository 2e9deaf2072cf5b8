using System.Text.Json;
using System.Text.Json.Serialization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Tests.Text;

public class NoticeWordsTests
{
    private static readonly LocalDate s_today = new(2025, 3, 3);
    private static readonly Words s_english = Words.For("en");
    private static readonly Words s_spanish = Words.For("es");

    // Which kind each reason belongs to.
    private static readonly Dictionary<ReasonCode, NoticeKind> s_kinds = new()
    {
        [ReasonCode.WaterLow] = NoticeKind.Water,
        [ReasonCode.AirLow] = NoticeKind.HoldWater,
        [ReasonCode.SoakedAndRain] = NoticeKind.HoldWater,
        [ReasonCode.DryAhead] = NoticeKind.CoverOn,
        [ReasonCode.RainWouldDrown] = NoticeKind.CoverOn,
        [ReasonCode.ReadyToPin] = NoticeKind.CoverOff,
        [ReasonCode.FruitingUnderCover] = NoticeKind.CoverOff,
        [ReasonCode.RainForDryBed] = NoticeKind.CoverOff,
        [ReasonCode.FrostTriggers] = NoticeKind.FrostAhead,
        [ReasonCode.FrostThreatens] = NoticeKind.FrostAhead,
        [ReasonCode.HeatOnYoungSpawn] = NoticeKind.HeatAhead,
        [ReasonCode.BedNearHarm] = NoticeKind.HeatAhead,
        [ReasonCode.PinsAhead] = NoticeKind.ExpectPins,
        [ReasonCode.HarvestAhead] = NoticeKind.ExpectHarvest,
        [ReasonCode.FlushReady] = NoticeKind.ExpectHarvest,
        [ReasonCode.NothingLogged] = NoticeKind.WeeklyCheck,
        [ReasonCode.YearSinceFilling] = NoticeKind.YearlyFeeding,
        [ReasonCode.FillingUsedUp] = NoticeKind.Spent,
        [ReasonCode.WindLiftsCover] = NoticeKind.StormAhead,
    };

    public static TheoryData<ReasonCode> Codes => [.. Enum.GetValues<ReasonCode>()];

    public static TheoryData<string> Languages => [.. Words.All.Select(words => words.Language)];

    /// <summary>A notice with every number of its own value, so that each can be told apart in the words.</summary>
    private static NoticeDraft Draft(ReasonCode code, double days = 4)
    {
        var reason = new NoticeReason(code, Enum.GetValues<ReasonNumber>().ToDictionary(name => name, name => name switch
        {
            ReasonNumber.Moisture => 0.37,
            ReasonNumber.WaterMark => 0.45,
            ReasonNumber.Air => 0.13,
            ReasonNumber.AirMark => 0.15,
            ReasonNumber.RainToCome => 7,
            ReasonNumber.Days => days,
            ReasonNumber.EarlyDays => 2,
            ReasonNumber.LateDays => 4,
            ReasonNumber.GroundMin => -3,
            ReasonNumber.FrostMark => -2,
            ReasonNumber.Tmax => 33,
            ReasonNumber.HeatMark => 30,
            ReasonNumber.BedTemperature => 32,
            ReasonNumber.HarmTemperature => 34,
            ReasonNumber.Wind => 7.5,
            ReasonNumber.WindMark => 6,
            _ => 1.0,
        }));
        return new NoticeDraft(s_kinds[code], s_today.PlusDays(3), s_today.PlusDays(2), NoticeConfidence.Likely, reason)
        {
            Amount = code == ReasonCode.WaterLow ? 25 : null,
        };
    }

    [Theory]
    [MemberData(nameof(Codes))]
    public void Every_reason_has_a_headline_a_sentence_and_a_when_that_differ_between_the_languages(ReasonCode code)
    {
        var draft = Draft(code);
        AssertSaid(s_english.Headline(draft), s_spanish.Headline(draft));
        AssertSaid(s_english.ReasonFor(draft), s_spanish.ReasonFor(draft));
        AssertSaid(s_english.When(draft, s_today), s_spanish.When(draft, s_today));
        AssertSaid(s_english.ReasonFor(Draft(code, days: 0)), s_spanish.ReasonFor(Draft(code, days: 0)));
        Assert.EndsWith(".", s_english.ReasonFor(draft));
        Assert.EndsWith(".", s_spanish.ReasonFor(draft));
    }

    [Fact]
    public void Every_name_differs_between_the_languages_and_from_its_neighbours()
    {
        AssertNames(words => Enum.GetValues<NoticeKind>().Select(words.NameOf));
        AssertNames(words => Enum.GetValues<Phase>().Select(words.NameOf));
        AssertNames(words => Enum.GetValues<LimitingFactor>().Select(limit => words.NameOf(limit)).Append(words.NameOf(LimitingFactor.Moisture, tooWet: true)));
        AssertNames(words => Enum.GetValues<ClosingCode>().Select(why => words.Closing(NoticeEnd.Done, why)));
        AssertNames(words => Enum.GetValues<NoticeEnd>().Select(how => words.Closing(how, ClosingCode.DayPassed)));
        Assert.Equal(["firm", "likely", "possible"], Enum.GetValues<NoticeConfidence>().Select(s_english.NameOf));
        Assert.Equal(["seguro", "probable", "posible"], Enum.GetValues<NoticeConfidence>().Select(s_spanish.NameOf));
    }

    [Fact]
    public void Water_is_told_with_its_litres_and_the_numbers_behind_them()
    {
        Assert.Equal("Water: 25 litres", s_english.Headline(Draft(ReasonCode.WaterLow)));
        Assert.Equal("Regar 25 litros", s_spanish.Headline(Draft(ReasonCode.WaterLow)));
        Assert.Equal("Water: 1 litre", s_english.Headline(Draft(ReasonCode.WaterLow) with { Amount = 1 }));
        Assert.Equal("Regar 1.250 litros", s_spanish.Headline(Draft(ReasonCode.WaterLow) with { Amount = 1250 }));

        foreach (var words in Words.All)
        {
            var why = words.ReasonFor(Draft(ReasonCode.WaterLow));
            Assert.Contains("37\u00a0%", why);
            Assert.Contains("45\u00a0%", why);
            Assert.Contains("7\u00a0mm", why);
        }
    }

    [Fact]
    public void No_rain_is_said_in_words()
    {
        var dry = Draft(ReasonCode.WaterLow);
        dry = dry with { Reason = new NoticeReason(ReasonCode.WaterLow, dry.Reason.Numbers.ToDictionary(n => n.Key, n => n.Key == ReasonNumber.RainToCome ? 0.2 : n.Value)) };

        Assert.Contains("no rain to speak of is forecast for 4 days", s_english.ReasonFor(dry));
        Assert.Contains("apenas se prevé lluvia en 4 días", s_spanish.ReasonFor(dry));
    }

    [Fact]
    public void Two_goes_and_a_cover_are_said_only_where_they_apply()
    {
        var plain = new NoticeDraft(NoticeKind.Water, s_today, s_today, NoticeConfidence.Firm, NoticeReason.Of(
            ReasonCode.WaterLow, (ReasonNumber.Goes, 1), (ReasonNumber.Covered, 0)))
        { Amount = 5 };
        var both = plain with { Reason = NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Goes, 2), (ReasonNumber.Covered, 1)) };

        foreach (var words in Words.All)
            Assert.True(words.ReasonFor(both).Length > words.ReasonFor(plain).Length + 60);
    }

    [Fact]
    public void A_cold_night_above_freezing_is_not_called_a_frost()
    {
        // Pink oyster loses its flush at +4 °C at the ground.
        var cold = Draft(ReasonCode.FrostThreatens) with { Reason = NoticeReason.Of(ReasonCode.FrostThreatens, (ReasonNumber.GroundMin, 3), (ReasonNumber.FrostMark, 4)) };

        Assert.StartsWith("Cold night on Thursday 6 March", s_english.Headline(cold));
        Assert.StartsWith("Noche fría el jueves 6 de marzo", s_spanish.Headline(cold));
        Assert.StartsWith("Frost on Thursday 6 March", s_english.Headline(Draft(ReasonCode.FrostThreatens)));
    }

    [Fact]
    public void Pins_are_told_as_a_window_and_not_as_a_day()
    {
        Assert.Equal("Expect pins 4 March to 10 March", s_english.Headline(Draft(ReasonCode.PinsAhead)));
        Assert.Equal("Primordios previstos del 4 de marzo al 10 de marzo", s_spanish.Headline(Draft(ReasonCode.PinsAhead)));
    }

    [Theory]
    [InlineData(-1, "overdue since Sunday 2 March", "atrasado desde el domingo 2 de marzo")]
    [InlineData(0, "today", "hoy")]
    [InlineData(1, "by tomorrow evening", "antes de mañana por la noche")]
    [InlineData(3, "by Thursday 6 March", "hasta el jueves 6 de marzo")]
    public void Deadlines_are_said_as_people_say_them(int days, string english, string spanish)
    {
        Assert.Equal(english, s_english.By(s_today.PlusDays(days), s_today));
        Assert.Equal(spanish, s_spanish.By(s_today.PlusDays(days), s_today));
    }

    [Fact]
    public void What_has_no_deadline_is_not_told_as_one()
    {
        Assert.Equal("until Wednesday 5 March", s_english.When(Draft(ReasonCode.AirLow), s_today));
        Assert.Equal("look from Tuesday 4 March on", s_english.When(Draft(ReasonCode.PinsAhead), s_today));
        Assert.Equal("every day until Monday 10 March", s_english.When(Draft(ReasonCode.FlushReady), s_today));
        Assert.Equal("this evening", s_english.When(Draft(ReasonCode.FrostThreatens), s_today.PlusDays(2)));
        Assert.Equal("since Thursday 6 March", s_english.When(Draft(ReasonCode.HeatOnYoungSpawn), s_today.PlusDays(5)));
        Assert.Equal("by Wednesday 5 March", s_english.When(Draft(ReasonCode.DryAhead), s_today));
    }

    [Theory]
    [InlineData(1, "1 day", "1 día")]
    [InlineData(2, "2 days", "2 días")]
    public void One_day_is_not_days(int days, string english, string spanish)
    {
        Assert.Contains($" {english} ago.", s_english.ReasonFor(Draft(ReasonCode.YearSinceFilling, days)));
        Assert.Contains($" {spanish}.", s_spanish.ReasonFor(Draft(ReasonCode.YearSinceFilling, days)));
    }

    [Fact]
    public void A_reason_comes_back_from_the_store_as_it_went_in()
    {
        var options = new JsonSerializerOptions(JsonSerializerDefaults.Web) { Converters = { new JsonStringEnumConverter() } };
        var reason = Draft(ReasonCode.WaterLow).Reason;

        var json = JsonSerializer.Serialize(reason, options);
        Assert.Contains("\"WaterLow\"", json);
        Assert.Equal(reason, JsonSerializer.Deserialize<NoticeReason>(json, options));
    }

    private static void AssertNames(Func<Words, IEnumerable<string>> names)
    {
        var english = names(s_english).ToList();
        var spanish = names(s_spanish).ToList();
        Assert.Equal(english.Count, english.Distinct().Count());
        Assert.Equal(spanish.Count, spanish.Distinct().Count());
        foreach (var (one, other) in english.Zip(spanish))
            AssertSaid(one, other);
    }

    private static void AssertSaid(string english, string spanish)
    {
        Assert.False(string.IsNullOrWhiteSpace(english));
        Assert.False(string.IsNullOrWhiteSpace(spanish));
        Assert.NotEqual(english, spanish);
        foreach (var text in new[] { english, spanish })
        {
            Assert.DoesNotMatch("[{}]|  |NaN|∞", text);
            Assert.Equal(text.Trim(), text);
        }
    }
}
