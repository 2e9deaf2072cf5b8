using FruitWatch.Service.Jobs;
using FruitWatch.Service.Operating;
using Hangfire;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Has the outbox emptied at once rather than at the next tick, for mails that somebody waits for. Call it after the row was saved.</summary>
internal sealed class MailSoon(ServiceOptions options, IServiceProvider services)
{
    public void Send()
    {
        if (options.RunJobs)
            services.GetRequiredService<IBackgroundJobClient>().Enqueue<MorningJobs>(job => job.MailAsync(CancellationToken.None));
    }
}
