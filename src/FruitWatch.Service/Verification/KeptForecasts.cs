using FruitWatch.Model.Beds;
using FruitWatch.Model.Verification;
using FruitWatch.Service.Log;
using FruitWatch.Service.Outlooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using BedRow = FruitWatch.Store.Entities.Bed;
using LogEntry = FruitWatch.Model.Beds.LogEntry;

namespace FruitWatch.Service.Verification;

/// <summary>A bed whose forecasts are looked back on, and where it lies.</summary>
internal sealed record LookedBackBed(
    long Id, string Name, string SpeciesKey, long SiteId, string SiteName, double Latitude, long CooperativeId, string CooperativeName);

/// <summary>What became of a kept forecast.</summary>
internal enum ForecastFate
{
    /// <summary>The log answers it.</summary>
    Answered,

    /// <summary>Nobody noted pins, nor a look that found none.</summary>
    Unanswered,

    /// <summary>The bed showed pins or mushrooms already, or was spent: there was nothing to wait for.</summary>
    NotWaiting,

    /// <summary>It has no chance of pins as far ahead: there were no futures that day, they ended sooner, or an older model made it.</summary>
    WithoutChance,
}

/// <summary>A kept forecast of pins, and its case where it was answered.</summary>
internal sealed record LookedBack(LookedBackBed Bed, LocalDate On, ForecastFate Fate, PinsCase? Case);

/// <summary>Loads the kept outlooks of beds and holds them against their logs, in three queries whatever the number of beds.</summary>
internal static class KeptForecasts
{
    private static readonly string[] s_phasesWithPins = ["growing", "picking"];
    private static readonly string[] s_kinds = [LogKinds.Pins, LogKinds.NoPins, LogKinds.Picked];

    /// <summary>Every kept outlook of some beds, in order of bed and day.</summary>
    /// <param name="store">Where they are kept.</param>
    /// <param name="asked">Which beds; all where nothing is asked for.</param>
    /// <param name="lead">Within how many days, the day of issue included. [d]</param>
    /// <param name="stop">Stops it.</param>
    public static async Task<IReadOnlyList<LookedBack>> LoadAsync(FruitWatchStore store, ForecastsAsked asked, int lead, CancellationToken stop)
    {
        var wanted = Wanted(store.Beds.AsNoTracking(), asked);
        var beds = await wanted
            .Join(store.Sites, bed => bed.SiteId, site => site.Id, (bed, site) => new { bed, site })
            .Join(store.Cooperatives, both => both.site.CooperativeId, cooperative => cooperative.Id, (both, cooperative) => new LookedBackBed(
                both.bed.Id, both.bed.Name, both.bed.SpeciesKey, both.site.Id, both.site.Name, both.site.Latitude, cooperative.Id, cooperative.Name))
            .ToDictionaryAsync(bed => bed.Id, stop);
        var entries = await store.LogEntries.AsNoTracking()
            .Where(entry => entry.UndoneAt == null && s_kinds.Contains(entry.Kind) && wanted.Any(bed => bed.Id == entry.BedId))
            .Select(entry => new { entry.BedId, entry.On, entry.At, entry.Kind })
            .ToListAsync(stop);
        var logs = entries.ToLookup(entry => entry.BedId, entry => Read(entry.Kind, entry.On, entry.At));

        var rows = store.Outlooks.AsNoTracking().Where(row => wanted.Any(bed => bed.Id == row.BedId)).OrderBy(row => row.BedId).ThenBy(row => row.On);
        var forecasts = new List<OfBed>();
        // One row at a time: what is kept of an outlook is long, and what is looked at short.
        await foreach (var row in rows.AsAsyncEnumerable().WithCancellation(stop))
        {
            if (forecasts.Count == 0 || forecasts[^1].Bed.Id != row.BedId)
                forecasts.Add(new OfBed(beds[row.BedId], new PinsLog(logs[row.BedId]), lead));
            forecasts[^1].Add(row);
        }

        return WithUsualChance([.. forecasts.SelectMany(bed => bed.Finish())]);
    }

    /// <summary>Of one bed asked for, all of its species at its site are loaded: what is usual there is known from them together.</summary>
    private static IQueryable<BedRow> Wanted(IQueryable<BedRow> beds, ForecastsAsked asked)
    {
        var wanted = beds;
        if (asked.SiteId is { } site)
            wanted = wanted.Where(bed => bed.SiteId == site);
        if (asked.SpeciesKey is { } species)
            wanted = wanted.Where(bed => bed.SpeciesKey == species);
        if (asked.BedId is { } id)
            wanted = wanted.Where(bed => beds.Any(one => one.Id == id && one.SiteId == bed.SiteId && one.SpeciesKey == bed.SpeciesKey));
        return wanted;
    }

    private static LogEntry Read(string kind, LocalDate on, LocalTime at) => kind switch
    {
        LogKinds.Pins => new PinsSeen(on) { Time = at },
        LogKinds.NoPins => new NoPinsFound(on) { Time = at },
        _ => new Picked(on, 0) { Time = at },
    };

    private static IReadOnlyList<LookedBack> WithUsualChance(IReadOnlyList<LookedBack> forecasts)
    {
        var usual = new Dictionary<LookedBack, double?>(ReferenceEqualityComparer.Instance);
        foreach (var same in forecasts.Where(forecast => forecast.Case is not null).GroupBy(forecast => (forecast.Bed.SiteId, forecast.Bed.SpeciesKey)))
        {
            var list = same.ToList();
            var chances = UsualChance.LeaveOneSeasonOut([.. list.Select(f => new SeasonOutcome(f.On, f.Case!.Season, f.Case.PinsCame))]);
            for (var i = 0; i < list.Count; i++)
                usual[list[i]] = chances[i];
        }

        return [.. forecasts.Select(f => f.Case is null ? f : f with { Case = f.Case with { ClimatologicalChance = usual[f] } })];
    }

    /// <summary>The forecasts of one bed, one morning after another.</summary>
    private sealed class OfBed(LookedBackBed bed, PinsLog log, int lead)
    {
        private readonly List<LookedBack> forecasts = [];
        private readonly List<IssuedChance> issued = [];
        private readonly List<int> places = [];

        public LookedBackBed Bed => bed;

        public void Add(OutlookIssued row)
        {
            var record = ReadOrNull(row);
            // A bed whose account has pins on this very day is growing by the evening, and was waiting for them in the morning.
            var waiting = row.Phase != "spent" && (!s_phasesWithPins.Contains(row.Phase) || record?.Pins == row.On);
            if (!waiting)
                forecasts.Add(new LookedBack(bed, row.On, ForecastFate.NotWaiting, null));
            else if (record?.Futures is not { } futures || futures.Pins.Length < lead)
                forecasts.Add(new LookedBack(bed, row.On, ForecastFate.WithoutChance, null));
            else
                Add(row.On, record.RuleOfThumb, futures);
        }

        public List<LookedBack> Finish()
        {
            var leadDays = FirstWarning.LeadDays(issued, lead);
            for (var i = 0; i < places.Count; i++)
            {
                if (forecasts[places[i]].Case is { } scored)
                    forecasts[places[i]] = forecasts[places[i]] with { Case = scored with { LeadDays = leadDays[i] } };
            }

            return forecasts;
        }

        private void Add(LocalDate on, bool? ruleOfThumb, FutureCounts futures)
        {
            var chance = Model.Futures.Chance.Of(futures.Pins[lead - 1], futures.Members);
            var answer = log.Of(on, lead);
            issued.Add(new IssuedChance(on, chance, answer?.Pins));
            places.Add(forecasts.Count);
            forecasts.Add(answer is not { } known
                ? new LookedBack(bed, on, ForecastFate.Unanswered, null)
                : new LookedBack(bed, on, ForecastFate.Answered, new PinsCase(chance, known.Came, GrowingSeason.Of(on, bed.Latitude))
                {
                    RuleOfThumb = ruleOfThumb,
                    DateCrps = DateCrps(on, futures, known),
                }));
        }

        /// <summary>Null where it is not known on which day pins came, nor that none came as far as the outlook reaches.</summary>
        private static double? DateCrps(LocalDate on, FutureCounts futures, PinsAnswer answer)
        {
            if (answer.Pins is { } pins)
                return Crps.OfDays(futures.Pins, futures.Members, Period.DaysBetween(on, pins));
            return answer.NoneBefore >= on.PlusDays(futures.Pins.Length - 1) ? Crps.OfDays(futures.Pins, futures.Members, null) : null;
        }

        private static OutlookRecord? ReadOrNull(OutlookIssued row)
        {
            try
            {
                return OutlookRows.Read(row);
            }
            catch (InvalidDataException)
            {
                // One damaged row is one forecast less to look back on, not a page that cannot be shown.
                return null;
            }
        }
    }
}

/// <summary>Of which beds; null for all.</summary>
internal sealed record ForecastsAsked(long? SiteId = null, long? BedId = null, string? SpeciesKey = null);
