using System.Text.Json;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Tests;

/// <summary>The answers under Samples/ and what must be read from them.</summary>
internal static class Samples
{
    private static readonly Lazy<JsonDocument> Expected = new(() => JsonDocument.Parse(File.ReadAllBytes(PathOf("expected.json"))));

    public static IEnumerable<JsonElement> Of(string kind) => Expected.Value.RootElement.GetProperty(kind).EnumerateArray();

    public static JsonElement Of(string kind, string sample) => Of(kind).Single(one => Text(one, "sample") == sample);

    public static FeedReading Read(JsonElement expected) => Read(Text(expected, "preset"), Text(expected, "sample"), Text(expected, "timeZone"), Text(expected, "today"));

    public static FeedReading Read(string preset, string sample, string zone, string today) =>
        Read(Preset(preset), File.ReadAllBytes(PathOf(sample)), zone, today);

    public static FeedReading Read(FeedDescription description, byte[] body, string zone = "Europe/London", string today = "2026-05-05")
    {
        var site = new FeedSite(51.02, -2.98, 14, DateTimeZoneProviders.Tzdb[zone]);
        var date = LocalDatePattern.Iso.Parse(today).Value;
        return FeedReader.Read(description, body, site, date, date.At(new LocalTime(6, 0)).InZoneLeniently(site.Zone).ToInstant());
    }

    public static FeedDescription Preset(string id) => FeedPresets.Find(id)!;

    public static string Text(JsonElement element, string member) => element.GetProperty(member).GetString()!;

    public static string PathOf(string sample) => Path.Combine(AppContext.BaseDirectory, "Samples", sample);
}
