using System.Globalization;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Mapping;

public sealed class LocalDayTests
{
    // Clock changes from the IANA time zone database: London 2026-10-25 and 2026-03-29, Lord Howe 2026-04-05 (half an hour),
    // Asunción 2024-10-06 (midnight left out), Havana 2026-11-01 (midnight twice), Apia 2011-12-30 (the whole day left out).
    [Theory]
    [InlineData("Europe/London", 2026, 10, 25, 25)]
    [InlineData("Europe/London", 2026, 3, 29, 23)]
    [InlineData("Australia/Lord_Howe", 2026, 4, 5, 24.5)]
    [InlineData("America/Asuncion", 2024, 10, 6, 23)]
    [InlineData("America/Havana", 2026, 11, 1, 25)]
    [InlineData("Europe/London", 2026, 6, 1, 24)]
    public void A_day_is_as_long_as_the_clocks_make_it(string zone, int year, int month, int day, double hours)
    {
        // A millimetre in each hour of the UTC time line, from two days before to two days after.
        var date = new LocalDate(year, month, day);
        var start = date.PlusDays(-2).AtMidnight();
        var rows = Enumerable.Range(0, 96 * 2).Select(half => start.PlusMinutes(30 * half)).Select(time => $"{time.ToString("uuuu-MM-dd HH:mm", CultureInfo.InvariantCulture)},10,0.5");
        var station = Feeds.Station("UTC", json => json["series"]!["rain"]!["period"] = "PT30M");

        var reading = Samples.Read(station, Feeds.Rows([.. rows]), zone, "2026-12-31");

        var rain = reading.Days.Single(one => one.Date == date).Rain!;
        Assert.Equal(hours, rain.Value, 9);
        Assert.Equal(1, rain.Coverage, 9);
    }

    [Fact]
    public void A_day_a_country_left_out_is_not_there()
    {
        var rows = Enumerable.Range(0, 96).Select(hour => new LocalDateTime(2011, 12, 29, 0, 0).PlusHours(hour)).Select(time => $"{time.ToString("uuuu-MM-dd HH:mm", CultureInfo.InvariantCulture)},10,1");
        var reading = Samples.Read(Feeds.Station("UTC"), Feeds.Rows([.. rows]), "Pacific/Apia");
        Assert.Contains(new LocalDate(2011, 12, 29), reading.Days.Select(day => day.Date));
        Assert.DoesNotContain(new LocalDate(2011, 12, 30), reading.Days.Select(day => day.Date));
        Assert.Equal(24, reading.Days.Single(day => day.Date == new LocalDate(2011, 12, 31)).Rain!.Value, 9);
    }

    [Fact]
    public void The_hour_that_comes_twice_is_told_apart_by_the_order_of_the_rows()
    {
        string[] rows =
        [
            "2026-10-25 00:00,10,0", "2026-10-25 01:00,9,1", "2026-10-25 01:00,8,2", "2026-10-25 02:00,7,4",
        ];
        foreach (var order in new[] { rows, [.. rows.Reverse()] })
        {
            var reading = Samples.Read(Feeds.Station(), Feeds.Rows(order), today: "2026-11-01");
            Assert.Equal(7, reading.Days.Single(day => day.Date == new LocalDate(2026, 10, 25)).Rain!.Value, 9);
            Assert.Empty(reading.Notes);
        }
    }

    [Fact]
    public void A_time_the_clocks_leave_out_is_refused_with_the_way_out()
    {
        var refusal = Assert.Throws<FeedException>(() => Samples.Read(Feeds.Station(), Feeds.Rows("2026-03-29 00:30,10,0", "2026-03-29 01:30,9,1")));
        Assert.Equal((FeedCodes.TimeUnparseable, "line 3, column time"), (refusal.Code, refusal.Place));
        Assert.Contains("\"zone\"", refusal.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_total_across_midnight_is_split_by_the_hours_on_either_side()
    {
        var station = Feeds.Station(change: json => json["series"]!["rain"]!["period"] = "PT6H");
        var reading = Samples.Read(station, Feeds.Rows("2026-05-02 02:00,,6", "2026-05-02 08:00,,0"));
        Assert.Equal(4, reading.Days.Single(day => day.Date == new LocalDate(2026, 5, 1)).Rain!.Value, 9);
        Assert.Equal(2, reading.Days.Single(day => day.Date == new LocalDate(2026, 5, 2)).Rain!.Value, 9);
    }

    [Fact]
    public void A_reading_at_midnight_belongs_to_the_day_it_begins_but_its_rain_to_the_day_before()
    {
        var reading = Samples.Read(Feeds.Station(), Feeds.Rows("2026-05-02 00:00,5,3", "2026-05-02 01:00,9,0"));
        Assert.Equal(3, reading.Days.Single(day => day.Date == new LocalDate(2026, 5, 1)).Rain!.Value, 9);
        Assert.Equal(5, reading.Days.Single(day => day.Date == new LocalDate(2026, 5, 2)).Tmin!.Value, 9);
    }

    [Fact]
    public void The_mean_weighs_each_reading_by_the_time_it_held()
    {
        // 10 °C for one hour, 16 °C for two, then a last reading that holds as long as the one before it.
        var reading = Samples.Read(Feeds.Station(), Feeds.Rows("2026-05-02 03:00,10,", "2026-05-02 04:00,16,", "2026-05-02 06:00,16,"));
        Assert.Equal(((1 * 10) + (4 * 16)) / 5.0, reading.Days.Single().Tmean!.Value, 9);
        Assert.Equal(5 / 24.0, reading.Days.Single().Tmean!.Coverage, 9);
    }

    [Fact]
    public void Overlapping_totals_leave_the_rain_of_their_days_unknown()
    {
        var reading = Samples.Read(Feeds.Station(), Feeds.Rows("2026-05-02 03:00,10,1", "2026-05-02 03:30,10,1", "2026-05-03 12:00,10,2"));
        Assert.Null(reading.Days.Single(day => day.Date == new LocalDate(2026, 5, 2)).Rain);
        Assert.Equal(2, reading.Days.Single(day => day.Date == new LocalDate(2026, 5, 3)).Rain!.Value, 9);
        Assert.Contains(FeedCodes.TimeOverlap, reading.Notes.Select(note => note.Code));
    }
}
