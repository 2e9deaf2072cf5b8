using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Channels.Email.Signing;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Wishes;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Puts the mail sender among the services.</summary>
internal static class EmailSetup
{
    /// <exception cref="MailException">A setting of the section <c>Mail</c> is wrong.</exception>
    public static IServiceCollection AddEmail(this IServiceCollection services, IConfiguration configuration)
    {
        var options = MailOptions.Read(configuration);
        services.AddSingleton(options);
        // Read at the start, where somebody sees what is wrong with it.
        services.AddSingleton(DkimSigning.Read(options.Dkim));
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton<MailSecrets>();
        services.AddSingleton<MailKey>();
        services.AddSingleton<DeedLinks>();
        services.AddSingleton<StopAddresses>();
        services.AddSingleton<StopLinks>();
        services.AddSingleton<StopBook>();
        services.AddSingleton<SendingTurn>();
        services.AddSingleton<MailPace>();
        services.AddSingleton<ReturnPaths>();
        services.AddSingleton<BounceFiling>();
        services.AddSingleton<BounceIntake>();
        services.AddSingleton<BounceRound>();
        services.AddSingleton<MailSender>();
        return services;
    }
}
