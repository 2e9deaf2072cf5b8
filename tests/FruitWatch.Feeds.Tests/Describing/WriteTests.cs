using System.Text;
using System.Text.Json.Nodes;
using CsCheck;
using FruitWatch.Feeds.Tests.Fuzz;
using Json.Schema;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Tests.Describing;

public sealed class WriteTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(FeedPresets.SchemaJson);

    public static TheoryData<string> Samples => [.. Tests.Samples.Of("normal").Select(one => Tests.Samples.Text(one, "sample"))];

    [Theory]
    [MemberData(nameof(Samples))]
    public void What_was_understood_reads_as_what_was_written(string sample)
    {
        var expected = Tests.Samples.Of("normal", sample);
        var preset = FeedPresets.Find(Tests.Samples.Text(expected, "preset"))!;
        var text = preset.Write();
        Assert.True(Schema.Evaluate(JsonNode.Parse(text)!).IsValid);
        var again = FeedDescription.Parse(text);
        Assert.Equal(text, again.Write());
        var body = File.ReadAllBytes(Tests.Samples.PathOf(sample));
        var (zone, today) = (Tests.Samples.Text(expected, "timeZone"), Tests.Samples.Text(expected, "today"));
        Assert.Equal(Tests.Samples.Read(preset, body, zone, today).Days, Tests.Samples.Read(again, body, zone, today).Days);
    }

    [Fact]
    public void So_does_any_description_that_is_accepted() => Gen.Int.Sample(
        seed =>
        {
            var one = new FuzzCase(FuzzCase.AllSamples[Math.Abs(seed % FuzzCase.AllSamples.Count)], seed);
            FeedDescription description;
            byte[] body;
            try
            {
                (description, body) = one.Make();
            }
            catch (FeedDescriptionException)
            {
                return true;
            }
            var text = description.Write();
            var again = FeedDescription.Parse(text);
            return again.Write() == text && Outcome(description) == Outcome(again);

            string Outcome(FeedDescription read)
            {
                try
                {
                    return string.Join("\n", one.Read(read, body, explain: false).Days);
                }
                catch (FeedException refusal)
                {
                    return refusal.Message;
                }
            }
        },
        iter: 2000);

    [Theory]
    [InlineData("P1D")]
    [InlineData("PT6H")]
    [InlineData("P1DT12H30M")]
    [InlineData("PT0.5S")]
    [InlineData("PT1M")]
    public void A_length_of_time_is_written_as_short_as_can_be(string text) =>
        Assert.Equal(text, FruitWatch.Feeds.Describing.IsoDuration.Text(FruitWatch.Feeds.Describing.IsoDuration.TryParse(text)!.Value));

    [Fact]
    public void The_days_of_a_reading_written_as_a_stations_file_are_the_same_days()
    {
        foreach (var expected in Tests.Samples.Of("normal"))
        {
            var reading = Tests.Samples.Read(expected);
            if (reading.Members.Count > 0)
                continue;
            var last = LocalDatePattern.Iso.Format(reading.Days[^1].Date);
            var again = Tests.Samples.Read(FeedPresets.Find("station-daily-csv")!, Encoding.UTF8.GetBytes(reading.ToStationCsv()), Tests.Samples.Text(expected, "timeZone"), last);
            Assert.Equal(Rows(reading), Rows(again));
        }

        static IEnumerable<(LocalDate Date, double? Tmax, double? Tmin, double? Rain)> Rows(FeedReading reading) =>
            reading.ToWeather().Where(day => (day.Tmax ?? day.Tmin ?? day.Rain) is not null).Select(day => (day.Date, day.Tmax, day.Tmin, day.Rain));
    }
}
