using FruitWatch.Service.Jobs;
using FruitWatch.Service.Tests.Seattle;
using FruitWatch.Store.Entities;
using Hangfire;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace FruitWatch.Service.Tests.Jobs;

/// <summary>The real job engine with its storage in memory, on a SQLite file, a feed over HTTP and a relay over SMTP.</summary>
public sealed class ScheduleTests
{
    private static readonly TimeSpan s_patience = TimeSpan.FromMinutes(5);

    [Fact]
    public async Task At_its_start_the_service_does_the_morning_that_is_due_and_a_second_start_adds_nothing()
    {
        await using var run = await SeattleRun.StartAsync(runJobs: true);

        for (var start = 0; start < 2; start++)
        {
            var servers = run.Services.GetServices<IHostedService>().ToList();
            foreach (var server in servers)
                await server.StartAsync(CancellationToken.None);
            Schedule.Start(run.Services);
            using var limit = new CancellationTokenSource(s_patience);
            while (!await AreSentAsync(run) || !HasTicked(run))
                await Task.Delay(100, limit.Token);
            foreach (var server in servers)
                await server.StopAsync(CancellationToken.None);
            await run.RestartAsync();
        }

        await using var store = run.Stores.CreateDbContext();
        Assert.Equal(SeattleRun.First, (await store.Mornings.SingleAsync()).On);
        Assert.Equal(2, await store.Outbox.CountAsync());
        Assert.Equal(2, run.Mailbox.Taken.Count);
    }

    private static async Task<bool> AreSentAsync(SeattleRun run)
    {
        await using var store = run.Stores.CreateDbContext();
        return await store.Outbox.CountAsync(mail => mail.State == MailState.Sent) == 2;
    }

    /// <summary>The tick of the start has run to its end.</summary>
    private static bool HasTicked(SeattleRun run) =>
        run.Services.GetRequiredService<JobStorage>().GetMonitoringApi().SucceededJobs(0, 100).Any(job => job.Value.Job?.Method.Name == nameof(MorningJobs.TickAsync));
}
