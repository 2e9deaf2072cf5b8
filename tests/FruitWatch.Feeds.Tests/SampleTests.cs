using System.Globalization;
using System.Text.Json;
using NodaTime.Text;

namespace FruitWatch.Feeds.Tests;

public sealed class SampleTests
{
    private static readonly string[] Quantities = ["tmax", "tmin", "tmean", "rain", "humidity"];

    // Each of these has one value that the feed's own marks call bad (quality 7 on 13 May, X at 14:53). It is dropped, as the
    // days expected say, and what is dropped is noted, as it is for the flags of the GHCN-Daily samples.
    private static readonly Dictionary<string, string[]> AlsoNoted = new()
    {
        ["frost-daily.json"] = [FeedCodes.ValueFlagged],
        ["nws-observations.json"] = [FeedCodes.ValueFlagged],
    };

    public static TheoryData<string> Normal => [.. Samples.Of("normal").Select(one => Samples.Text(one, "sample"))];

    public static TheoryData<string> Accepted => [.. Malformed("accepted")];

    public static TheoryData<string> Rejected => [.. Malformed("rejected")];

    [Theory]
    [MemberData(nameof(Normal))]
    public void An_answer_gives_exactly_the_days_worked_out_for_it(string sample)
    {
        var expected = Samples.Of("normal", sample);
        AssertSame(expected, Samples.Read(expected));
    }

    [Theory]
    [MemberData(nameof(Accepted))]
    public void A_faulty_answer_gives_the_days_it_still_supports_and_says_what_was_odd(string sample)
    {
        var expected = Samples.Of("malformed", sample);
        AssertSame(expected, Samples.Read(expected));
    }

    [Theory]
    [MemberData(nameof(Rejected))]
    public void A_useless_answer_is_refused_with_its_code_its_place_and_the_mend(string sample)
    {
        var expected = Samples.Of("malformed", sample);

        var refusal = Assert.Throws<FeedException>(() => Samples.Read(expected));

        Assert.Equal(Samples.Text(expected, "code"), refusal.Code);
        Assert.Contains(refusal.Sentence, refusal.Message, StringComparison.Ordinal);
        Assert.Contains($"({refusal.Place})", refusal.Message, StringComparison.Ordinal);
        Assert.NotEmpty(refusal.Place);
        Assert.NotEmpty(refusal.Mend);
        Assert.EndsWith(refusal.Mend, refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("malformed/truncated.json", "line 1, byte 428")]
    [InlineData("malformed/bad-date.json", "/daily/time/1")]
    [InlineData("malformed/renamed-column.json", "/daily/temperature_2m_max")]
    [InlineData("malformed/unequal-columns.json", "/daily/precipitation_sum")]
    [InlineData("malformed/unknown-unit.json", "/daily_units/temperature_2m_max")]
    [InlineData("malformed/fahrenheit-undeclared.json", "/daily/temperature_2m_max/0")]
    [InlineData("malformed/csv-ragged.csv", "line 3")]
    [InlineData("malformed/csv-decimal-comma.csv", "line 2, column tmax_c")]
    [InlineData("malformed/csv-day-month-order.csv", "line 2, column date")]
    [InlineData("malformed/csv-latin1.csv", "line 2, byte 28")]
    [InlineData("malformed/csv-duplicate-column.csv", "line 1")]
    [InlineData("malformed/records-no-offset.json", "/weather/0/timestamp")]
    [InlineData("malformed/interval-no-offset.json", "/properties/quantitativePrecipitation/values/0/validTime")]
    [InlineData("malformed/interval-months.json", "/properties/quantitativePrecipitation/values/0/validTime")]
    [InlineData("malformed/interval-empty.json", "/properties/quantitativePrecipitation/values/0/validTime")]
    [InlineData("malformed/problem-details.json", "/correlationId")]
    public void A_refusal_points_at_the_very_place(string sample, string place) =>
        Assert.Equal(place, Assert.Throws<FeedException>(() => Samples.Read(Samples.Of("malformed", sample))).Place);

    [Fact]
    public void Every_preset_has_a_sample_or_shares_the_shape_of_one_that_has()
    {
        var sampled = Samples.Of("normal").Select(one => Samples.Text(one, "preset")).ToHashSet();
        // The archive answers in the shape of the hourly forecast.
        Assert.Equal(["open-meteo-archive"], FeedPresets.All.Select(preset => preset.Id).Where(id => !sampled.Contains(id)));
    }

    private static IEnumerable<string> Malformed(string verdict) =>
        Samples.Of("malformed").Where(one => Samples.Text(one, "verdict") == verdict).Select(one => Samples.Text(one, "sample"));

    private static void AssertSame(JsonElement expected, FeedReading reading)
    {
        Assert.Equal(
            expected.GetProperty("days").EnumerateArray().Select(Row),
            reading.Days.Select(Row));
        var notes = expected.GetProperty("notes").EnumerateArray().Select(note => note.GetString()!);
        Assert.Equal(
            notes.Concat(AlsoNoted.GetValueOrDefault(Samples.Text(expected, "sample"), [])).Order(StringComparer.Ordinal),
            reading.Notes.Select(note => note.Code).Distinct().Order(StringComparer.Ordinal));
        Assert.All(reading.Notes, note => Assert.NotEmpty(note.Place));
    }

    private static string Row(JsonElement day)
    {
        var member = day.TryGetProperty("member", out var label) ? label.GetString() : null;
        return Row(Samples.Text(day, "date"), member, name => day.TryGetProperty(name, out var value)
            ? new FeedValue(value.GetProperty("value").GetDouble(), value.GetProperty("coverage").GetDouble(), value.GetProperty("complete").GetBoolean())
            : null);
    }

    private static string Row(FeedDay day) => Row(LocalDatePattern.Iso.Format(day.Date), day.Member, name => name switch
    {
        "tmax" => day.Tmax,
        "tmin" => day.Tmin,
        "rain" => day.Rain,
        "tmean" => day.Tmean,
        _ => day.Humidity,
    });

    private static string Row(string date, string? member, Func<string, FeedValue?> value) =>
        $"{date} {member} " + string.Join(" ", Quantities.Select(name =>
            value(name) is { } known
                ? string.Create(CultureInfo.InvariantCulture, $"{name}={known.Value:0.00}/{known.Coverage:0.000}/{known.Complete}")
                : $"{name}=?"));
}
