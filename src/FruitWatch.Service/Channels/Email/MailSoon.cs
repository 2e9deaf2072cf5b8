using FruitWatch.Service.Jobs;
using FruitWatch.Service.Operating;
using Hangfire;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Has the outbox emptied at once rather than at the next tick, for mails that somebody waits for. Call it after the row was saved.</summary>
/// <param name="send">Begins it, and does not wait for it.</param>
internal sealed class MailSoon(Action send)
{
    /// <summary>By the jobs, where they run here.</summary>
    public static MailSoon ByJobs(IServiceProvider services) => new(() =>
    {
        if (services.GetRequiredService<ServiceOptions>().RunJobs)
            services.GetRequiredService<IBackgroundJobClient>().Enqueue<MorningJobs>(job => job.MailAsync(CancellationToken.None));
    });

    /// <summary>Without jobs: the demo has none.</summary>
    public static MailSoon ByItself(IServiceProvider services) => new(() => _ = Task.Run(async () =>
    {
        try
        {
            await services.GetRequiredService<MailSender>().SendDueAsync(services.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping);
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            services.GetRequiredService<ILogger<MailSoon>>().LogError(fault, "Mails wait for the next morning");
        }
    }));

    public void Send() => send();
}
