using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Mornings;

/// <summary>
/// The hours in which somebody wants to be left alone, by the clock on their wall: their own zone's, or that of the site a thing happens
/// at. They may pass midnight; where both ends are the same hour there are none.
/// </summary>
internal static class QuietHours
{
    /// <summary>Whether a moment lies in them.</summary>
    public static bool Hold(Person person, DateTimeZone siteZone, Instant moment)
    {
        var local = moment.InZone(ZoneOf(person, siteZone)).TimeOfDay;
        var (from, until) = (person.QuietFrom, person.QuietUntil);
        return from <= until ? local >= from && local < until : local >= from || local < until;
    }

    /// <summary>The first moment from one on that lies outside of them.</summary>
    public static Instant Open(Person person, DateTimeZone siteZone, Instant moment)
    {
        if (!Hold(person, siteZone, moment))
            return moment;
        var zone = ZoneOf(person, siteZone);
        var local = moment.InZone(zone);
        var day = local.TimeOfDay < person.QuietUntil ? local.Date : local.Date.PlusDays(1);
        var open = LocalMorning.Of(day, person.QuietUntil, zone);
        // A clock that was set back can bring the hour a second time.
        while (Hold(person, siteZone, open) || open < moment)
            open += Duration.FromMinutes(1);
        return open;
    }

    /// <summary>The next moment at which they begin; null where there are none.</summary>
    public static Instant? Begin(Person person, DateTimeZone siteZone, Instant moment)
    {
        if (person.QuietFrom == person.QuietUntil)
            return null;
        var zone = ZoneOf(person, siteZone);
        var today = moment.InZone(zone).Date;
        var begin = LocalMorning.Of(today, person.QuietFrom, zone);
        return begin > moment ? begin : LocalMorning.Of(today.PlusDays(1), person.QuietFrom, zone);
    }

    /// <summary>The zone by which somebody lives.</summary>
    public static DateTimeZone ZoneOf(Person person, DateTimeZone siteZone) =>
        person.ZoneId is { } own && DateTimeZoneProviders.Tzdb.GetZoneOrNull(own) is { } zone ? zone : siteZone;
}
