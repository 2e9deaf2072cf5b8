using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Season;
using FruitWatch.Service.Tests.Pages;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Season;

public sealed class SeasonPlansTests(SeasonService running) : IClassFixture<SeasonService>
{
    private static readonly Species s_wineCap = BedCatalogue.BuiltIn.Species["wine-cap"];

    private TestService Service => running.Service;

    [Fact]
    public async Task The_same_question_of_the_same_weather_is_computed_once()
    {
        using var plans = new SeasonPlans(BedCatalogue.BuiltIn);
        var first = await AskAsync(plans);
        Assert.Same(first, await AskAsync(plans));
        Assert.NotSame(first, await AskAsync(plans, new BedPattern { Shade = 0.7 }));
        Assert.Equal(2, plans.Count);
    }

    [Fact]
    public async Task Many_who_ask_at_once_get_one_plan()
    {
        using var plans = new SeasonPlans(BedCatalogue.BuiltIn);
        var all = await Task.WhenAll(Enumerable.Range(0, 5).Select(_ => AskAsync(plans)));
        Assert.All(all, plan => Assert.Same(all[0], plan));
    }

    [Fact]
    public async Task A_day_of_the_past_that_was_mended_gives_a_new_plan()
    {
        await using var store = Service.Store();
        var site = await Orchard.AddAsync(store, Service.Invented, Orchard.Yesterday.PlusDays(-600));
        using var plans = new SeasonPlans(BedCatalogue.BuiltIn);
        var before = await AskAsync(plans, site: site);
        var mended = Orchard.DayOf(Orchard.Yesterday.PlusDays(-300));
        await Orchard.KeepAsync(store, Service.Invented, site, [mended with { Rain = mended.Rain + 30 }]);
        Assert.NotSame(before, await AskAsync(plans, site: site));
    }

    [Fact]
    public async Task No_more_plans_are_kept_than_it_says_and_the_last_one_is_among_them()
    {
        // Sites with little weather: their plans are made at once.
        using var plans = new SeasonPlans(BedCatalogue.BuiltIn);
        SeasonPlan? last = null;
        var pattern = new BedPattern();
        for (var i = 0; i < 2 * SeasonPlans.Most; i++)
        {
            pattern = pattern with { Depth = 0.1 + i / 1000.0 };
            last = await AskAsync(plans, pattern, Service.Invented.AlderLane);
            Assert.InRange(plans.Count, 1, SeasonPlans.Most);
        }

        Assert.Same(last, await AskAsync(plans, pattern, Service.Invented.AlderLane));
    }

    [Fact]
    public async Task Whoever_has_left_is_not_computed_for_and_the_next_one_is()
    {
        using var plans = new SeasonPlans(BedCatalogue.BuiltIn);
        var site = await OpenAsync(running.Orchard);
        var question = new SeasonQuestion([s_wineCap], new BedPattern());
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => plans.OfAsync(site, question, new CancellationToken(canceled: true)));
        Assert.Equal(0, plans.Count);
        Assert.NotNull(await plans.OfAsync(site, question, CancellationToken.None));
    }

    [Fact]
    public async Task Forecasts_are_no_history()
    {
        var site = await OpenAsync(Service.Invented.AlderLane);
        Assert.Contains(site.Known, day => day.Date > site.Today);
        var history = SeasonHistory.Of(site);
        Assert.Equal(site.Today.PlusDays(-1), history[^1].Date);
        Assert.Equal(240, history.Count);
    }

    private async Task<SeasonPlan> AskAsync(SeasonPlans plans, BedPattern? pattern = null, long? site = null) =>
        await plans.OfAsync(await OpenAsync(site ?? running.Orchard), new SeasonQuestion([s_wineCap], pattern ?? new BedPattern()), CancellationToken.None);

    private async Task<SiteBook> OpenAsync(long site)
    {
        await using var store = Service.Store();
        return (await Service.Services.GetRequiredService<SiteBooks>().OpenAsync(store, [site], CancellationToken.None)).Single();
    }
}
