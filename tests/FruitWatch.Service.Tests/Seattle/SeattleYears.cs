using FruitWatch.Service.Tests.Seattle;
using NodaTime;

[assembly: AssemblyFixture(typeof(SeattleYears))]

namespace FruitWatch.Service.Tests.Seattle;

/// <summary>
/// Two runs through four years of mornings, with the same outages of feed and mail; one of them is restarted at random mornings
/// and does some of them twice.
/// </summary>
public sealed class SeattleYears
{
    private const int Seed = 20120108;

    internal static readonly DateInterval FeedOutage = new(new LocalDate(2013, 7, 10), new LocalDate(2013, 7, 14));
    internal static readonly DateInterval MailOutage = new(new LocalDate(2013, 9, 28), new LocalDate(2013, 9, 29));

    // Both at once: most of a morning is waiting for the relay's answers.
    private readonly Lazy<(Task<SeattleHistory> Steady, Task<SeattleHistory> Restarted)> runs = new(() => (
        Task.Run(() => RunAsync(restarts: null)),
        Task.Run(() => RunAsync(new Random(Seed)))));

    /// <summary>Without restarts.</summary>
    internal Task<SeattleHistory> Steady => runs.Value.Steady;

    /// <summary>Restarted about every tenth morning.</summary>
    internal Task<SeattleHistory> Restarted => runs.Value.Restarted;

    private static async Task<SeattleHistory> RunAsync(Random? restarts)
    {
        await using var run = await SeattleRun.StartAsync();
        for (var day = SeattleRun.First; day <= SeattleRun.Last; day = day.PlusDays(1))
        {
            run.Feed.Down = FeedOutage.Contains(day);
            run.MailDown = MailOutage.Contains(day);
            if (restarts?.Next(10) == 0)
                await run.RestartAsync();
            await run.MorningAsync(day);
            if (restarts?.Next(10) == 0)
            {
                await run.RestartAsync();
                await run.StepAsync();
            }
        }

        return await SeattleHistory.OfAsync(run);
    }
}
