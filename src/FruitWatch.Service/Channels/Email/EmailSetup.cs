using FruitWatch.Service.Deeds;
using FruitWatch.Service.Wishes;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Puts the mail sender among the services.</summary>
internal static class EmailSetup
{
    /// <exception cref="MailException">A setting of the section <c>Mail</c> is wrong.</exception>
    public static IServiceCollection AddEmail(this IServiceCollection services, IConfiguration configuration)
    {
        services.AddSingleton(MailOptions.Read(configuration));
        services.AddSingleton<MailSecrets>();
        services.AddSingleton<MailKey>();
        services.AddSingleton<DeedLinks>();
        services.AddSingleton<StopLinks>();
        services.AddSingleton<MailSender>();
        return services;
    }
}
