using FruitWatch.Feeds;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Digests;

/// <summary>Rounds that meet, as those of a start and of the clock do, or those of two servers.</summary>
public sealed class MeetingRoundsTests
{
    private const int Readers = 20;

    [Fact]
    public async Task Each_reader_gets_one_digest_and_none_gives_way_to_another_of_its_own_day()
    {
        await using var service = await TestService.StartAsync();
        await using var store = service.Store();
        (await store.Feeds.SingleAsync()).Description = FeedPresets.Find("station-daily-csv")!.Json;
        (await store.Cooperatives.SingleAsync()).GrowersReadAll = true;
        for (var i = 0; i < Readers; i++)
        {
            var person = new Person { CooperativeId = service.Invented.Cooperative, Name = $"Reader {i}", Email = $"reader{i}@example.org" };
            person.Sites.Add(new PersonSite { SiteId = service.Invented.AlderLane });
            store.Add(person);
        }

        await store.SaveChangesAsync();
        var round = service.Services.GetRequiredService<DigestRound>();

        var composed = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(() => round.ComposeDueAsync(TestContext.Current.CancellationToken))));

        var digests = await store.Outbox.Where(mail => mail.Key.StartsWith(DigestRound.KeyPrefix) && mail.ToName.StartsWith("Reader ")).ToListAsync();
        Assert.Equal(Readers, digests.Count);
        Assert.All(digests, mail => Assert.Equal((MailState.Pending, null), (mail.State, mail.LastError)));
        Assert.Equal(Readers, composed.Sum());
    }
}
