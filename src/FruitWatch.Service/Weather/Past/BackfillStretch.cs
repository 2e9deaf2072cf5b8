using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Weather.Past;

/// <summary>The days that one request of a backfill asks for.</summary>
/// <param name="First">The first.</param>
/// <param name="Last">The last.</param>
internal readonly record struct BackfillStretch(LocalDate First, LocalDate Last)
{
    private const int UsualDays = 365;

    /// <summary>Shorter stretches are asked for by nobody who wants years.</summary>
    public const int FewestDays = 31;

    public int Days => Period.DaysBetween(First, Last) + 1;

    /// <summary>What is to be asked for next: a year, or what the feed's answers allow.</summary>
    /// <param name="fill">How far it is.</param>
    /// <param name="reach">How far one request of the feed goes.</param>
    /// <param name="most">Days that were not too many for this feed.</param>
    public static BackfillStretch Of(Backfill fill, FeedReach reach, int most)
    {
        if (reach.WholeFile)
            return new BackfillStretch(fill.First, fill.Next);
        var days = Math.Min(UsualDays, most);
        if (reach.UsualBack >= FewestDays)
            days = Math.Min(days, reach.UsualBack);
        return new BackfillStretch(LocalDate.Max(fill.First, fill.Next.PlusDays(1 - days)), fill.Next);
    }
}
