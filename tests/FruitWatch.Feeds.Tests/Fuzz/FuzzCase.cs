using System.Text;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Tests.Fuzz;

/// <summary>One sample with changes that its seed alone decides, in the body, in the description or in both.</summary>
/// <param name="Sample">The sample, as named in expected.json.</param>
/// <param name="Seed">Decides every change.</param>
internal sealed record FuzzCase(string Sample, int Seed)
{
    private static readonly Dictionary<string, Start> Starts =
        Samples.Of("normal").Concat(Samples.Of("malformed").Where(one => Samples.Text(one, "verdict") == "accepted"))
            .ToDictionary(one => Samples.Text(one, "sample"), one => new Start(
                Samples.Preset(Samples.Text(one, "preset")),
                File.ReadAllBytes(Samples.PathOf(Samples.Text(one, "sample"))),
                DateTimeZoneProviders.Tzdb[Samples.Text(one, "timeZone")],
                LocalDatePattern.Iso.Parse(Samples.Text(one, "today")).Value));

    private sealed record Start(FeedDescription Description, byte[] Body, DateTimeZone Zone, LocalDate Today);

    public static IReadOnlyList<string> AllSamples { get; } = [.. Starts.Keys.Order(StringComparer.Ordinal)];

    public LocalDate Today => Starts[Sample].Today;

    public FeedSite Site => new(51.02, -2.98, 14, Starts[Sample].Zone);

    public Instant ReceivedAt => Today.At(new LocalTime(6, 0)).InZoneLeniently(Site.Zone).ToInstant();

    public FeedReading Read(FeedDescription description, byte[] body, bool explain) =>
        FeedReader.Read(description, body, Site, Today, ReceivedAt, explain: explain);

    /// <summary>The description and the body after the changes.</summary>
    /// <exception cref="FeedDescriptionException">The changed description is refused.</exception>
    public (FeedDescription Description, byte[] Body) Make()
    {
        var start = Starts[Sample];
        var random = new Random(Seed);
        var description = start.Description;
        var body = start.Body.ToArray();
        // Seven in ten change the body, two the description, one both.
        var kind = random.Next(10);
        if (kind > 1)
        {
            for (var changes = Math.Max(1, random.Next(-2, 4)); changes > 0; changes--)
                body = Changed(random, description, body);
        }
        if (kind < 3)
        {
            var json = Encoding.UTF8.GetBytes(description.Json);
            for (var changes = random.Next(1, 3); changes > 0; changes--)
                json = random.Next(8) switch
                {
                    0 => TextMutator.Bytes(random, json),
                    < 3 => JsonMutator.Mutate(random, json),
                    _ => JsonMutator.Graft(random, json, Encoding.UTF8.GetBytes(FeedPresets.All[random.Next(FeedPresets.All.Count)].Json)),
                };
            description = FeedDescription.Parse(Encoding.UTF8.GetString(json));
        }
        return (description, body);
    }

    private static byte[] Changed(Random random, FeedDescription description, byte[] body)
    {
        var way = random.Next(10);
        if (way == 0)
            return TextMutator.Bytes(random, body);
        if (way == 1)
            return TextMutator.Whole(random, body);
        return description.Form.Kind switch
        {
            "csv" => TextMutator.Rows(random, body, ((Forms.CsvForm)description.Form).Delimiter[0]),
            "dly" => TextMutator.FixedWidth(random, body),
            _ => JsonMutator.Mutate(random, body),
        };
    }
}
