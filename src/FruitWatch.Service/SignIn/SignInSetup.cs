namespace FruitWatch.Service.SignIn;

/// <summary>Accounts and signing in.</summary>
internal static class SignInSetup
{
    public static void AddSignIn(this IServiceCollection services)
    {
        services.AddSingleton<Channels.Email.MailSoon>();
    }

    public static void MapSignIn(this IEndpointRouteBuilder app)
    {
    }
}
