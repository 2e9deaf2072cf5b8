using NodaTime;

namespace FruitWatch.Feeds.Tests.Mapping;

public sealed class ValueTests
{
    private static readonly LocalDate Day = new(2026, 5, 2);

    [Theory]
    [InlineData("null")]
    [InlineData("NaN")]
    [InlineData("N/A")]
    [InlineData("--")]
    [InlineData("  ")]
    [InlineData("")]
    public void The_usual_marks_for_nothing_mean_unknown_without_a_note(string mark)
    {
        var reading = Samples.Read(Feeds.Station(), Feeds.Rows($"2026-05-02 03:00,{mark},1"));
        Assert.Null(reading.Days.Single().Tmax);
        Assert.Empty(reading.Notes);
    }

    [Theory]
    [InlineData("-9999")]
    [InlineData("-9999.0")]
    [InlineData("-9.999e3")]
    public void A_feeds_own_mark_for_nothing_is_known_however_it_is_written(string mark)
    {
        var station = Feeds.Station(change: json => json["series"]!["temp"]!["missing"] = new System.Text.Json.Nodes.JsonArray("-9999"));
        var reading = Samples.Read(station, Feeds.Rows($"2026-05-02 03:00,{mark},1"));
        Assert.Null(reading.Days.Single().Tmax);
        Assert.Empty(reading.Notes);
    }

    [Theory]
    [InlineData("1,234.5")]
    [InlineData("0x10")]
    [InlineData("(5)")]
    [InlineData("5 C")]
    [InlineData("Infinity")]
    [InlineData("1e999")]
    [InlineData("١٢")]
    public void Only_plain_numbers_are_numbers(string text)
    {
        var rows = Enumerable.Range(1, 9).Select(hour => $"2026-05-02 0{hour}:00,10,0").Append($"2026-05-02 10:00,\"{text}\",0");
        var reading = Samples.Read(Feeds.Station(), Feeds.Rows([.. rows]));
        Assert.Equal([FeedCodes.ValueNotNumber], reading.Notes.Select(note => note.Code));
        Assert.Equal("line 11, column temp", reading.Notes.Single().Place);
        Assert.Equal(10, reading.Days.Single().Tmax!.Value);
    }

    [Fact]
    public void The_same_oddity_a_thousand_times_is_one_note_with_a_count()
    {
        var rows = Enumerable.Range(0, 1000).Select(minute => $"2026-05-02 {minute / 60:00}:{minute % 60:00},10,-1");
        var station = Feeds.Station(change: json => json["series"]!["rain"]!["period"] = "PT1M");
        var note = Assert.Single(Samples.Read(station, Feeds.Rows([.. rows])).Notes);
        Assert.Equal((FeedCodes.ValueNegativeRain, 1000, "line 2, column rain"), (note.Code, note.Count, note.Place));
    }

    [Fact]
    public void A_day_of_rare_rain_is_kept_and_noted_and_one_beyond_records_is_not_kept()
    {
        var daily = FeedPresets.Find("station-daily-csv")!;
        var reading = Samples.Read(daily, "date,tmax_c,tmin_c,rain_mm\n2026-05-01,,,350\n2026-05-02,,,2500\n2026-05-03,,,1"u8.ToArray());
        Assert.Equal([350, 1], reading.Days.Select(day => day.Rain!.Value));
        Assert.Equal([FeedCodes.TimeGap, FeedCodes.ValueImplausible, FeedCodes.ValueUnusual], reading.Notes.Select(note => note.Code).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_counter_that_falls_was_reset_and_what_it_shows_has_fallen_since()
    {
        var counter = FeedPresets.Find("station-counter-csv")!;
        var reading = Samples.Read(counter, "Time (UTC);Outdoor (F);Rain today (in)\n2026-05-02 03:00;50;0,30\n2026-05-02 04:00;50;0,40\n2026-05-02 05:00;50;0,05"u8.ToArray());
        Assert.Equal(0.15 * 25.4, reading.Days.Single(day => day.Date == Day).Rain!.Value, 9);
    }

    [Fact]
    public void A_counter_silent_for_too_long_leaves_its_rain_unknown()
    {
        var counter = FeedPresets.Find("station-counter-csv")!;
        var reading = Samples.Read(counter, "Time (UTC);Outdoor (F);Rain today (in)\n2026-05-02 03:00;50;0,00\n2026-05-02 04:00;50;0,10\n2026-05-02 09:00;50;0,90\n2026-05-02 10:00;50;1,00"u8.ToArray());
        Assert.Equal(0.2 * 25.4, reading.Days.Single(day => day.Date == Day).Rain!.Value, 9);
    }

    [Fact]
    public void Rows_out_of_order_give_the_same_days()
    {
        string[] rows = ["2026-05-02 03:00,10,1", "2026-05-02 04:00,12,2", "2026-05-02 05:00,11,0"];
        var straight = Samples.Read(Feeds.Station("UTC"), Feeds.Rows(rows));
        var mixed = Samples.Read(Feeds.Station("UTC"), Feeds.Rows(rows[2], rows[0], rows[1]));
        Assert.Equal(straight.Days, mixed.Days);
    }

    [Fact]
    public void A_series_may_be_missing_only_where_the_description_says_so()
    {
        var body = "time,temp\n2026-05-02 03:00,10"u8.ToArray();
        Assert.Equal(FeedCodes.Missing, Assert.Throws<FeedException>(() => Samples.Read(Feeds.Station(), body)).Code);
        var lenient = Feeds.Station(change: json => json["series"]!["rain"]!["optional"] = true);
        Assert.Equal(10, Samples.Read(lenient, body).Days.Single().Tmax!.Value);
    }

    [Theory]
    [InlineData("a\"b")]
    [InlineData("\"never closed")]
    [InlineData("\"a\"b")]
    public void A_quotation_mark_out_of_place_is_refused_with_its_line(string field)
    {
        var refusal = Assert.Throws<FeedException>(() => Samples.Read(Feeds.Station(), Feeds.Rows("2026-05-02 03:00,10,1", $"2026-05-02 04:00,{field},1", "2026-05-02 05:00,10,1")));
        Assert.Equal((FeedCodes.InvalidCsv, "line 3"), (refusal.Code, refusal.Place));
    }

    [Fact]
    public void Lines_before_the_header_blank_lines_and_comments_are_passed_over_and_counted()
    {
        var station = Feeds.Station(change: json =>
        {
            json["format"]!["skipLines"] = 2;
            json["format"]!["comment"] = "//";
        });
        var body = "Alder Lane, \"the gauge\nmore\ntime,temp,rain\n\n// cleaned\n2026-05-02 03:00,10,1\n2026-05-02 3,10,1"u8.ToArray();
        Assert.Equal("line 7, column time", Assert.Throws<FeedException>(() => Samples.Read(station, body)).Place);
    }

    [Theory]
    [InlineData("iso-8859-1")]
    [InlineData("windows-1252")]
    public void A_file_in_an_old_encoding_is_read_when_it_is_described(string encoding)
    {
        var daily = Feeds.Changed("station-daily-csv", json => json["format"]!["encoding"] = encoding);
        var reading = Samples.Read(daily, File.ReadAllBytes(Samples.PathOf("malformed/csv-latin1.csv")));
        Assert.Equal(17.2, reading.Days.Single().Tmax!.Value, 9);
    }
}
