using System.Linq.Expressions;
using FruitWatch.Service.Mornings;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Mornings;

/// <summary>A bed that was given up: what was open about it ends with the next round.</summary>
public sealed class GivenUpTests
{
    [Fact]
    public async Task Its_notices_are_withdrawn_and_no_others()
    {
        await using var service = await TestService.StartAsync();
        await using var store = service.Store();
        var straw = service.Invented.Straw;
        var others = await OpenAsync(store, notice => notice.BedId != straw && notice.SiteId != service.Invented.AlderLane);
        Assert.NotEmpty(await OpenAsync(store, notice => notice.BedId == straw));
        await store.Beds.Where(bed => bed.Id == straw).ExecuteUpdateAsync(set => set.SetProperty(bed => bed.RetiredOn, InventedCooperative.Today));
        var clock = (FakeClock)service.Services.GetRequiredService<IClock>();
        clock.Advance(Duration.FromDays(1));

        await service.Services.GetRequiredService<MorningRound>().RunAsync(
            new DueMorning(service.Invented.AlderLane, InventedCooperative.Today.PlusDays(1), Late: false), TestContext.Current.CancellationToken);

        Assert.Empty(await OpenAsync(store, notice => notice.BedId == straw));
        var ended = await store.Notices.AsNoTracking().Where(notice => notice.BedId == straw && notice.ClosedOn == InventedCooperative.Today.PlusDays(1)).ToListAsync();
        Assert.NotEmpty(ended);
        Assert.All(ended, notice => Assert.Equal((NoticeState.Withdrawn, "bedSpent"), (notice.State, notice.ClosedWhy)));
        Assert.Equal(others, await OpenAsync(store, notice => notice.BedId != straw && notice.SiteId != service.Invented.AlderLane));
    }

    private static Task<List<long>> OpenAsync(FruitWatchStore store, Expression<Func<IssuedNotice, bool>> which) =>
        store.Notices.Where(notice => notice.State == NoticeState.Open).Where(which).OrderBy(notice => notice.Id).Select(notice => notice.Id).ToListAsync();
}
