using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Season;
using FruitWatch.Service.Beds;
using Microsoft.Extensions.Caching.Memory;
using NodaTime;

namespace FruitWatch.Service.Season;

/// <summary>
/// Makes plans, and keeps the last ones: a page loaded again does not compute again. A plan is kept under all that it rests on, the
/// weather to the last value among it, so that none outlives the weather that it was made from.
/// </summary>
internal sealed class SeasonPlans(BedCatalogue catalogue) : IDisposable
{
    /// <summary>A plan of all species and ten years takes about a megabyte.</summary>
    public const int Most = 24;

    private static readonly TimeSpan s_unusedFor = TimeSpan.FromHours(1);

    // A plan takes nearly all processors for up to a second: a second one would only slow the first down.
    private readonly SemaphoreSlim oneAtATime = new(1);
    private readonly MemoryCache kept = new(new MemoryCacheOptions { SizeLimit = Most });

    /// <summary>Plans kept.</summary>
    public int Count => kept.Count;

    /// <summary>The plan for a site, kept or made.</summary>
    /// <exception cref="OperationCanceledException">Nobody waits for it any more.</exception>
    public async Task<SeasonPlan> OfAsync(SiteBook site, SeasonQuestion question, CancellationToken stop)
    {
        var history = SeasonHistory.Of(site);
        var key = new PlanKey(
            site.Row.Id,
            question.Pattern,
            string.Join(',', question.Species.Select(species => species.Key)),
            site.Ladder,
            history.Count > 0 ? history[^1].Date : null,
            SeasonHistory.Fingerprint(history));
        if (kept.TryGetValue(key, out SeasonPlan? plan))
            return plan!;

        await oneAtATime.WaitAsync(stop);
        try
        {
            // Whoever waited may have waited for this very plan.
            if (kept.TryGetValue(key, out plan))
                return plan!;
            plan = await Task.Run(
                () => SeasonPlanner.Plan(
                    history, site.Ladder, question.Species, question.Pattern, catalogue, Math.Max(1, Environment.ProcessorCount - 1), stop),
                stop);
            if (kept.Count >= Most)
                kept.Compact(0.25); // the least lately used
            kept.Set(key, plan, new MemoryCacheEntryOptions { Size = 1, SlidingExpiration = s_unusedFor });
            return plan;
        }
        finally
        {
            oneAtATime.Release();
        }
    }

    public void Dispose()
    {
        kept.Dispose();
        oneAtATime.Dispose();
    }

    private sealed record PlanKey(
        long Site, BedPattern Pattern, string Species, EvaporationLadder Ladder, LocalDate? LastDay, string Weather);
}
