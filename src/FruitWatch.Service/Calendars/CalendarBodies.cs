using System.ComponentModel;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Calendars;

/// <summary>A calendar feed as the API gives it.</summary>
[Description("An address under which a calendar program reads what is due. Its secret is not told again.")]
internal sealed record CalendarBody(
    [property: Description("Key.")] long Id,
    [property: Description("What its maker calls it.")] string Name,
    [property: Description("Key of the only site in it; null for all that you are told about.")] long? SiteId,
    [property: Description("When it was made.")] Instant MadeAt,
    [property: Description("When it was last read, to the nearest five minutes; null where it never was.")] Instant? LastUsedAt)
{
    public static CalendarBody Of(CalendarFeed row) => new(row.Id, row.Name, row.SiteId, row.MadeAt, row.LastUsedAt);
}

/// <summary>A calendar feed that was made.</summary>
[Description("A calendar feed with its address, which is given once.")]
internal sealed record CalendarMadeBody(
    [property: Description("Address to give to a calendar program. Whoever has it reads what you may read. Null where the same request is sent again: it is not kept.")] string? Address,
    [property: Description("Key.")] long Id,
    [property: Description("What its maker calls it.")] string Name,
    [property: Description("Key of the only site in it; null for all that you are told about.")] long? SiteId,
    [property: Description("When it was made.")] Instant MadeAt);

/// <summary>A calendar feed as it is asked for.</summary>
[Description("A calendar feed to be made.")]
internal sealed record CalendarAsked(
    [property: Description("What to call it, such as the program it is for; 1 to 80 characters.")] string Name,
    [property: Description("Key of the only site that it shows; null or left out for all that you are told about.")] long? SiteId) : IReadBody<CalendarAsked>
{
    public static CalendarAsked Read(JsonFields fields) => Of(fields);

    public static CalendarAsked Of(IFields fields) => new(fields.Line("name", CalendarShelf.LongestName, required: true) ?? "", fields.Id("siteId"));
}
