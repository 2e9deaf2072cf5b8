using System.ComponentModel;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.People;

/// <summary>What a member may set for themself, and a coordinator for them.</summary>
[Description("Own settings. A change names all fields: what is left out goes back to its default.")]
internal sealed record PersonSettings(
    [property: Description("What they are called, 1 to 80 characters.")] string Name,
    [property: Description("Language they read: en or es; en where left out.")] string? Language,
    [property: Description("Units they read; metric where left out.")] Units? Units,
    [property: Description("Their own time zone by its IANA name; null for that of the site a thing happens at.")] string? ZoneId,
    [property: Description("Local time from which they want the morning mail, 00:00 to 18:00; null for as soon as the rounds of their sites are done.")]
    LocalTime? MorningAt,
    [property: Description("Local time from which they want to be left alone; 20:00 where left out.")] LocalTime? QuietFrom,
    [property: Description("Local time until which they want to be left alone, on the next day where it is the earlier one; 06:00 where left out.")]
    LocalTime? QuietUntil) : IReadBody<PersonSettings>
{
    public const int LongestName = 80;

    /// <summary>A digest says what is to be done today; in the evening it says it too late.</summary>
    public static readonly LocalTime LatestMorning = new(18, 0);

    public static PersonSettings Read(JsonFields fields) => Of(fields);

    public static PersonSettings Of(IFields fields)
    {
        var settings = new PersonSettings(
            fields.Line("name", LongestName, required: true) ?? "",
            fields.Text("language", 8),
            fields.Word<Units>("units"),
            fields.Text("zoneId", 64) is { Length: > 0 } zone ? zone : null,
            fields.Time("morningAt"),
            fields.Time("quietFrom"),
            fields.Time("quietUntil"));
        if (settings.Language is { } language && !Words.All.Any(words => words.Language == language))
            fields.Refuse("language", words => words.FieldsLanguage);
        if (settings.ZoneId is { } given && DateTimeZoneProviders.Tzdb.GetZoneOrNull(given) is null)
            fields.Refuse("zoneId", words => words.FieldsZone);
        if (settings.MorningAt > LatestMorning)
            fields.Refuse("morningAt", words => words.FieldsTimeBetween(LocalTime.Midnight, LatestMorning));
        return settings;
    }

    public void Put(Person row)
    {
        row.Name = Name;
        row.Language = Language ?? "en";
        row.Units = Units ?? Store.Entities.Units.Metric;
        row.ZoneId = ZoneId;
        row.MorningAt = MorningAt;
        row.QuietFrom = QuietFrom ?? new LocalTime(20, 0);
        row.QuietUntil = QuietUntil ?? new LocalTime(6, 0);
    }
}
