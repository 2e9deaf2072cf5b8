using FruitWatch.Model.Verification;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Demo;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.Tests.Demo;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Mornings;

public sealed class KeptOutlookTests
{
    /// <summary>What is kept of a morning is what was issued then: in all futures, with the rule of thumb beside it.</summary>
    [Fact]
    public async Task A_round_keeps_every_beds_outlook_in_all_futures_and_the_rule_of_thumb()
    {
        using var folder = new DemoFolder();
        await using var demo = await DemoHost.OpenAsync(new DemoOptions(folder.Path));
        await using var store = demo.Stores.CreateDbContext();
        var sites = await demo.App.Services.GetRequiredService<SiteBooks>().OpenAllAsync(store, CancellationToken.None);
        var kept = await store.Outlooks.AsNoTracking().ToListAsync();

        Assert.Equal(sites.Sum(site => site.Beds.Count), kept.Count);
        foreach (var site in sites)
        {
            var mornings = BedOutlooks.Mornings(site);
            var week = Enumerable.Range(-7, 7).Select(day => site.On(site.Today.PlusDays(day))!).ToList();
            foreach (var bed in site.Beds)
            {
                var read = OutlookRows.Read(kept.Single(row => row.BedId == bed.Row.Id && row.On == site.Today));
                Assert.Equal(mornings[bed.Row.Id].Outlook!.Alone.Pins.By, read.Futures!.Pins);
                Assert.Equal(RuleOfThumb.ExpectsPins(week), read.RuleOfThumb);
            }
        }

        Assert.Contains(kept, row => OutlookRows.Read(row).RuleOfThumb is not null);
    }
}
