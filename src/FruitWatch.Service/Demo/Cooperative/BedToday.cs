using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Notices;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using NodaTime;
using Bed = FruitWatch.Store.Entities.Bed;
using LogEntry = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Demo.Cooperative;

/// <summary>A bed on a day, as its growers find it.</summary>
/// <param name="Site">Where it lies.</param>
/// <param name="Data">The bed and its log so far.</param>
/// <param name="Truth">What it really did, through this day.</param>
/// <param name="Date">The day.</param>
/// <param name="Told">Open notices that the growers were sent.</param>
internal sealed record BedToday(DemoSite Site, BedData Data, BedAccount Truth, LocalDate Date, IReadOnlyList<IssuedNotice> Told)
{
    /// <summary>How it stands at the end of the day.</summary>
    public AccountDay Now => Truth.On(Date)!.Value;

    public Bed Bed => Data.Bed;

    /// <summary>What lies over it.</summary>
    public Cover Cover => Truth.Plan.CoverOn(Period.DaysBetween(Bed.InoculatedOn, Date));

    /// <summary>Whether its growers were told so.</summary>
    public bool IsTold(NoticeKind kind) => Told.Any(notice => notice.Kind == NoticeRows.WordOf(kind));

    /// <summary>Days since the last entry of a kind; since inoculation where there is none.</summary>
    public int DaysSince(string kind) => DaysSince(Data.Log.Where(row => row.Kind == kind));

    /// <summary>Days since the last entry of any kind.</summary>
    public int DaysSinceAny() => DaysSince(Data.Log);

    /// <summary>Days since the truth last had an event; null where it never had.</summary>
    public int? DaysSinceEvent(AccountEvent happening)
    {
        for (var i = Period.DaysBetween(Bed.InoculatedOn, Date); i >= 0; i--)
        {
            if (Truth.Days[i].Event == happening)
                return Period.DaysBetween(Truth.Days[i].Date, Date);
        }

        return null;
    }

    private int DaysSince(IEnumerable<LogEntry> rows) =>
        Period.DaysBetween(rows.Select(row => row.On).DefaultIfEmpty(Bed.InoculatedOn).Max(), Date);
}
