using System.Text;
using System.Text.Json.Nodes;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Mapping;

/// <summary>The forms in which each moment is a record, and the fixed-width file, rule by rule.</summary>
public sealed class FormTests
{
    private static readonly LocalDate Day = new(2026, 5, 4);

    [Theory]
    [InlineData("2026-05-04T12:00:00+02:00/PT6H")]
    [InlineData("2026-05-04T10:00:00Z/2026-05-04T16:00:00Z")]
    [InlineData("PT6H/2026-05-04T16:00:00Z")]
    [InlineData("2026-05-04T10:00:00Z/P0DT5H59M60S")]
    public void A_stretch_of_time_may_be_written_in_three_ways(string text)
    {
        var rain = Grid(Rain(text, 6)).Days.Single().Rain!;
        Assert.Equal((6, 0.25), (rain.Value, rain.Coverage));
    }

    [Theory]
    [InlineData("2026-05-04T10:00:00Z/P1M", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00Z/P1Y", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00Z/P1W", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00Z/PT0H", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00Z/2026-05-04T10:00:00Z", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00Z/2026-05-04T09:00:00Z", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00Z/P32D", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00Z", FeedCodes.TimeUnparseable)]
    [InlineData("NOW/PT6H", FeedCodes.TimeUnparseable)]
    [InlineData("PT6H/PT6H", FeedCodes.TimeUnparseable)]
    [InlineData("2026-05-04T10:00:00/PT6H", FeedCodes.TimeNoZone)]
    [InlineData("PT6H/2026-05-04T10:00", FeedCodes.TimeNoZone)]
    [InlineData("2026-05-04T10:00:00Z/2026-05-04T16:00:00", FeedCodes.TimeNoZone)]
    public void A_stretch_of_time_that_is_none_is_refused_where_it_stands(string text, string code)
    {
        var refusal = Assert.Throws<FeedException>(() => Grid(Rain(text, 6)));
        Assert.Equal((code, "/properties/quantitativePrecipitation/values/0/validTime"), (refusal.Code, refusal.Place));
        Assert.Contains(text, refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_layer_that_is_gone_is_missed_and_an_empty_one_is_not()
    {
        const string Gone = """{"properties":{"updateTime":"2026-05-04T06:00:00Z","maxTemperature":{"values":[]},"minTemperature":{"values":[]}}}""";
        var refusal = Assert.Throws<FeedException>(() => Grid(Gone));
        Assert.Equal((FeedCodes.Missing, "/properties/quantitativePrecipitation/values"), (refusal.Code, refusal.Place));
        var empty = Gone.Replace("]}}}", "]},\"quantitativePrecipitation\":{\"values\":[]}}}", StringComparison.Ordinal);
        Assert.Equal(FeedCodes.DataEmpty, Assert.Throws<FeedException>(() => Grid(empty)).Code);
    }

    [Fact]
    public void Of_totals_side_by_side_the_longest_that_ends_before_the_next_record_is_taken()
    {
        // Hourly, then a step of six hours, then a last record that nothing follows.
        var days = Norway(("00", 1, 99), ("01", 2, 99), ("02", null, 30), ("08", 5, 10), ("14", 7, 14)).Days;
        var rain = days.Single(day => day.Date == Day).Rain!;
        Assert.Equal(1 + 2 + 30 + 10 + 14, rain.Value, 9);
        Assert.Equal(20 / 24.0, rain.Coverage, 9);
        Assert.Equal(
            ["/properties/timeseries/0/data/next_1_hours/details/precipitation_amount", "/properties/timeseries/1/data/next_1_hours/details/precipitation_amount", "/properties/timeseries/2/data/next_6_hours/details/precipitation_amount"],
            rain.Raw.Take(3).Select(raw => raw.Place));
    }

    [Fact]
    public void Where_the_long_total_is_not_there_the_short_one_stands_for_its_own_time_only()
    {
        var rain = Norway(("00", 1, null), ("06", 2, null)).Days.Single().Rain!;
        Assert.Equal((3, 2 / 24.0), (rain.Value, rain.Coverage));
    }

    [Fact]
    public void A_child_has_its_records_time_and_its_own_length_to_add()
    {
        var reading = Read("frost-daily", """
            {"data":[{"referenceTime":"2026-05-04T00:00:00Z","observations":[
              {"elementId":"sum(precipitation_amount P1D)","value":3,"timeOffset":"PT6H","qualityCode":0},
              {"elementId":"max(air_temperature P1D)","value":12,"timeOffset":"PT18H","qualityCode":5},
              {"elementId":"min(air_temperature P1D)","value":4,"timeOffset":"PT18H","qualityCode":1}]},
             {"referenceTime":"2026-05-05T00:00:00Z"}]}
            """, "UTC");
        Assert.Equal(3, reading.Days.Single(day => day.Date == Day.PlusDays(-1)).Rain!.Value);
        var today = reading.Days.Single(day => day.Date == Day);
        Assert.Equal((null, 4.0), (today.Tmax, today.Tmin!.Value));
        Assert.Equal("/data/0/observations/2/value", today.Tmin.Raw.Single().Place);
        Assert.Equal("/data/0/observations/1/value", reading.Notes.Single().Place);
    }

    [Theory]
    [InlineData("\"referenceTime\":\"2026-05-04T00:00:00Z\",", "", FeedCodes.TimeUnparseable, "/data/0/referenceTime")]
    [InlineData("\"timeOffset\":\"PT6H\",", "", FeedCodes.TimeUnparseable, "/data/0/referenceTime")]
    [InlineData("observations", "observed", FeedCodes.Missing, "/data/0/observations")]
    [InlineData("\"value\"", "\"amount\"", FeedCodes.Missing, "/data/0/observations/0/value")]
    [InlineData("elementId", "element", FeedCodes.Missing, "/data/0/observations/0/elementId")]
    public void What_a_record_lacks_is_named(string text, string instead, string code, string place)
    {
        const string Body = """{"data":[{"referenceTime":"2026-05-04T00:00:00Z","observations":[{"elementId":"sum(precipitation_amount P1D)","timeOffset":"PT6H","value":3,"qualityCode":0}]}]}""";
        var refusal = Assert.Throws<FeedException>(() => Read("frost-daily", Body.Replace(text, instead, StringComparison.Ordinal), "UTC"));
        Assert.Equal((code, place), (refusal.Code, refusal.Place));
    }

    [Fact]
    public void What_one_record_lacks_is_unknown_there_and_moves_nothing_else()
    {
        var reading = Read("eccc-climate-daily", """
            {"features":[{"properties":{"LOCAL_DATE":"2026-05-01 00:00:00","MAX_TEMPERATURE":11,"MIN_TEMPERATURE":1,"TOTAL_PRECIPITATION":1}},
             {"properties":{"LOCAL_DATE":"2026-05-02 00:00:00","MIN_TEMPERATURE":2,"TOTAL_PRECIPITATION":2}},
             {"properties":{"LOCAL_DATE":"2026-05-03 00:00:00","MAX_TEMPERATURE":13,"MIN_TEMPERATURE":3}}]}
            """, "UTC");
        Assert.Equal([11, null, 13], reading.Days.Select(day => day.Tmax?.Value));
        Assert.Equal([1, 2, null], reading.Days.Select(day => day.Rain?.Value));
    }

    [Fact]
    public void Extremes_of_six_hours_count_only_inside_one_day()
    {
        var reading = Read("met-norway-complete", """
            {"properties":{"meta":{"updated_at":"2026-05-05T00:00:00Z","units":{"air_temperature":"celsius","air_temperature_max":"celsius","air_temperature_min":"celsius","precipitation_amount":"mm"}},"timeseries":[
              {"time":"2026-05-04T20:00:00Z","data":{"instant":{"details":{"air_temperature":10}},"next_6_hours":{"details":{"air_temperature_max":30,"air_temperature_min":-5,"precipitation_amount":0}}}},
              {"time":"2026-05-05T02:00:00Z","data":{"instant":{"details":{"air_temperature":12}},"next_6_hours":{"details":{"air_temperature_max":15,"air_temperature_min":8,"precipitation_amount":0}}}}]}}
            """, "UTC");
        Assert.Equal((10.0, 10.0), (reading.Days[0].Tmax!.Value, reading.Days[0].Tmin!.Value));
        Assert.Equal((15.0, 8.0), (reading.Days[1].Tmax!.Value, reading.Days[1].Tmin!.Value));
    }

    [Theory]
    [InlineData("the 31st of April", 21 + (30 * 8), "  121", FeedCodes.TimeUnparseable, "line 1, column 262")]
    [InlineData("the year", 11, "20x6", FeedCodes.TimeUnparseable, "line 1, column 12")]
    [InlineData("the month", 15, "13", FeedCodes.TimeUnparseable, "line 1, column 12")]
    public void A_line_out_of_step_is_refused(string what, int at, string text, string code, string place)
    {
        Assert.NotEmpty(what);
        var body = File.ReadAllBytes(Samples.PathOf("ghcn.dly"));
        Encoding.ASCII.GetBytes(text).CopyTo(body, at);
        var refusal = Assert.Throws<FeedException>(() => Samples.Read(FeedPresets.Find("ghcn-dly")!, body));
        Assert.Equal((code, place), (refusal.Code, refusal.Place));
    }

    [Fact]
    public void Blanks_cut_from_the_end_of_a_line_change_nothing_and_anything_more_is_refused()
    {
        var lines = File.ReadAllLines(Samples.PathOf("ghcn.dly"));
        var whole = Samples.Read(FeedPresets.Find("ghcn-dly")!, Join(lines));
        Assert.Equal(whole.Days, Samples.Read(FeedPresets.Find("ghcn-dly")!, Join(lines.Select(line => line.TrimEnd()))).Days);
        Assert.Equal(whole.Days, Samples.Read(FeedPresets.Find("ghcn-dly")!, Encoding.ASCII.GetBytes(string.Join("\r\n", lines))).Days);
        var refusal = Assert.Throws<FeedException>(() => Samples.Read(FeedPresets.Find("ghcn-dly")!, Join([lines[0], lines[1][..200]])));
        Assert.Equal((FeedCodes.RaggedRow, "line 2"), (refusal.Code, refusal.Place));

        static byte[] Join(IEnumerable<string> lines) => Encoding.ASCII.GetBytes(string.Join('\n', lines));
    }

    [Fact]
    public void Months_before_the_first_day_needed_are_passed_over()
    {
        var preset = Feeds.Changed("ghcn-dly", json => json["expect"]!["horizonDays"]!["back"] = 3);
        // 2 April is three days before 5 April: the month is opened, its first day is not kept.
        var reading = Samples.Read(preset, File.ReadAllBytes(Samples.PathOf("ghcn.dly")), today: "2026-04-05");
        Assert.Equal([2, 3], reading.Days.Select(day => day.Date.Day));
        Assert.Equal(FeedCodes.DataEmpty, Assert.Throws<FeedException>(() => Samples.Read(preset, File.ReadAllBytes(Samples.PathOf("ghcn.dly")), today: "2026-06-05")).Code);
    }

    [Fact]
    public void The_lookup_of_the_grid_forecast_finds_its_address_in_the_answer_for_the_point()
    {
        using var point = System.Text.Json.JsonDocument.Parse(File.ReadAllBytes(Samples.PathOf("nws-point.json")));
        var captures = JsonNode.Parse(FeedPresets.Find("nws-gridpoint")!.Json)!["request"]!["steps"]![0]!["capture"]!.AsObject();
        Assert.All(captures, one => Assert.NotNull(FruitWatch.Feeds.Describing.JsonPointer.TryParse(one.Value!.GetValue<string>())!.Evaluate(point.RootElement)));
    }

    private static string Rain(string time, double value) => """
        {"properties":{"updateTime":"2026-05-04T06:00:00Z","maxTemperature":{"values":[]},"minTemperature":{"values":[]},
         "quantitativePrecipitation":{"values":[{"validTime":"*","value":#}]}}}
        """.Replace("*", time, StringComparison.Ordinal).Replace("#", FormattableString.Invariant($"{value}"), StringComparison.Ordinal);

    private static FeedReading Grid(string body) => Read("nws-gridpoint", body, "UTC");

    private static FeedReading Norway(params (string Hour, double? One, double? Six)[] records)
    {
        var list = records.Select(record => """{"time":"2026-05-04T00:00:00Z","data":{"instant":{"details":{"air_temperature":10}}*}}"""
            .Replace("T00", "T" + record.Hour, StringComparison.Ordinal).Replace("*", Next(1, record.One) + Next(6, record.Six), StringComparison.Ordinal));
        const string Answer = """{"properties":{"meta":{"updated_at":"2026-05-04T00:00:00Z","units":{"air_temperature":"celsius","precipitation_amount":"mm"}},"timeseries":[*]}}""";
        return Read("met-norway-compact", Answer.Replace("*", string.Join(',', list), StringComparison.Ordinal), "UTC");

        static string Next(int hours, double? rain) => rain is null ? "" : $",\"next_{hours}_hours\":{{\"details\":{{\"precipitation_amount\":{rain}}}}}";
    }

    private static FeedReading Read(string preset, string body, string zone)
    {
        var site = new FeedSite(51.02, -2.98, 14, DateTimeZoneProviders.Tzdb[zone]);
        return FeedReader.Read(FeedPresets.Find(preset)!, Encoding.UTF8.GetBytes(body), site, Day, Instant.FromUtc(2026, 5, 4, 8, 0), explain: true);
    }
}
