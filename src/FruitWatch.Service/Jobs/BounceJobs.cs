using FruitWatch.Service.Channels.Email.Bounces;
using Hangfire;

namespace FruitWatch.Service.Jobs;

/// <summary>Reads what came back. Run twice, the second run finds nothing.</summary>
/// <remarks>A job that fails is not tried again by the engine: what it left is still there at the next tick.</remarks>
[AutomaticRetry(Attempts = 0)]
internal sealed class BounceJobs(BounceRound round)
{
    public async Task TickAsync(CancellationToken stop) => await round.RunAsync(stop);
}
