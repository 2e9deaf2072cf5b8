using FruitWatch.Service.Demo.Cooperative;
using FruitWatch.Service.Demo.Weather;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Demo;

/// <summary>
/// Moves the demo from morning to morning: its growers work through the day, the next day's weather comes in, the service does its
/// round. One step at a time; what was begun when the program ended is finished at the next start.
/// </summary>
internal sealed class DemoStepper(
    DemoWorld world, LocalDate today, StoreFactory stores, DemoFeeds feeds, DemoClock clock, Func<CancellationToken, Task> morning)
    : IDemoStepper, IDisposable
{
    private readonly SemaphoreSlim one = new(1);
    private LocalDate day = today;

    /// <summary>The day that the demo has reached, in ISO form.</summary>
    public string Today => LocalDatePattern.Iso.Format(day);

    /// <summary>Does the round of the day that the demo has reached, unless it was done.</summary>
    public async Task BeginAsync(CancellationToken stop = default)
    {
        await feeds.WriteAsync(day, stop);
        clock.SetMorning(day);
        await morning(stop);
    }

    /// <summary>Does the rounds of the next mornings, one after the other. It ends where its weather does.</summary>
    public async Task StepAsync(int mornings)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(mornings);
        await one.WaitAsync();
        try
        {
            for (var i = 0; i < mornings && day.PlusDays(DemoForecasts.LastLead + 1) <= world.Weather.Last; i++)
            {
                await LiveThroughAsync(CancellationToken.None);
                await BeginAsync();
            }
        }
        finally
        {
            one.Release();
        }
    }

    public void Dispose() => one.Dispose();

    /// <summary>The growers' day. It is saved together with the fact that it has passed.</summary>
    private async Task LiveThroughAsync(CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        var places = await PlacesAsync(store, stop);
        var people = await DemoPeople.KeysAsync(store, stop);
        var sites = await SiteData.LoadAsync(store, [.. places.Keys], stop);
        var open = (await store.Notices.AsNoTracking().Where(n => n.State == NoticeState.Open).OrderBy(n => n.Id).ToListAsync(stop))
            .ToLookup(n => n.BedId);
        foreach (var (site, bed) in sites.SelectMany(s => s.Beds, (s, bed) => (places[s.Site.Id], bed)))
        {
            if (world.Truth.Account(site, bed, day) is not { } truth)
                continue;
            foreach (var entry in world.Work.On(new BedToday(site, bed, truth, day, [.. open[bed.Bed.Id]])))
            {
                entry.RecordedAt = DemoClock.At(entry.On, entry.At);
                DemoPeople.Sign(entry, people);
                store.LogEntries.Add(entry);
            }
        }

        await DemoProgress.MoveToAsync(store, day.PlusDays(1), stop);
        await store.SaveChangesAsync(stop);
        day = day.PlusDays(1);
    }

    /// <summary>Which invented place each site is; sites that a visitor added are none, and nobody works there.</summary>
    private static async Task<Dictionary<long, DemoSite>> PlacesAsync(FruitWatchStore store, CancellationToken stop)
    {
        var keys = await store.Feeds.AsNoTracking().ToDictionaryAsync(f => f.Id, f => f.Key, stop);
        var sites = await store.Sites.AsNoTracking().Where(s => s.StationFeedId != null || s.HistoryFeedId != null).OrderBy(s => s.Id).ToListAsync(stop);
        return sites
            .Select(s => (s.Id, Place: DemoSite.All.FirstOrDefault(place => place.HistoryKey == keys[(s.StationFeedId ?? s.HistoryFeedId)!.Value])))
            .Where(s => s.Place is not null)
            .ToDictionary(s => s.Id, s => s.Place!);
    }
}
