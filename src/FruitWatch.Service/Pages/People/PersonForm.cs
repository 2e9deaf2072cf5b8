using System.Globalization;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.Primitives;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Pages.People;

/// <summary>What stands in the forms of members and of own settings.</summary>
internal static class PersonForm
{
    private static readonly LocalTimePattern s_time = LocalTimePattern.CreateWithInvariantCulture("HH:mm");

    public static FormFields Of(Person row, Words words) => new(words, new Dictionary<string, StringValues>
    {
        ["version"] = row.Version.ToString(CultureInfo.InvariantCulture),
        ["name"] = row.Name,
        ["email"] = row.Email,
        ["role"] = ApiJson.WordOf(row.Role),
        ["language"] = row.Language,
        ["units"] = ApiJson.WordOf(row.Units),
        ["zoneId"] = row.ZoneId ?? "",
        ["morningAt"] = row.MorningAt is { } at ? s_time.Format(at) : "",
        ["quietFrom"] = s_time.Format(row.QuietFrom),
        ["quietUntil"] = s_time.Format(row.QuietUntil),
        ["active"] = row.Active ? "true" : StringValues.Empty,
        ["siteIds"] = Keys(row.Sites.Select(told => told.SiteId)),
        ["bedIds"] = Keys(row.Beds.Select(own => own.BedId)),
    }.Where(field => field.Value.Count > 0).ToDictionary());

    /// <summary>Whether a form was opened on the version that is kept.</summary>
    public static bool IsOutdated(FormFields form, IEdited row) => form["version"] != row.Version.ToString(CultureInfo.InvariantCulture);

    /// <summary>A time as a field has it.</summary>
    public static string Time(LocalTime time) => s_time.Format(time);

    private static StringValues Keys(IEnumerable<long> keys) => new([.. keys.Select(key => key.ToString(CultureInfo.InvariantCulture))]);
}

/// <summary>A site with its beds, to be ticked.</summary>
internal sealed record SiteTicks(Site Site, IReadOnlyList<Bed> Beds);

/// <summary>A form of a member, as it is shown.</summary>
/// <param name="Form">What stands in it.</param>
/// <param name="Sites">What can be ticked.</param>
/// <param name="Row">The member; null for a new one.</param>
/// <param name="Own">It is the visitor's own.</param>
/// <param name="GrowersReadAll">Whether growers of the cooperative may read each other's beds.</param>
internal sealed record PersonFormShown(FormFields Form, IReadOnlyList<SiteTicks> Sites, Person? Row, bool Own, bool GrowersReadAll);
