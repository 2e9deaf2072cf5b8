namespace FruitWatch.Service.People;

/// <summary>Puts what deals with members among the services.</summary>
internal static class PeopleSetup
{
    public static void AddPeople(this IServiceCollection services)
    {
        services.AddScoped<Invitations>();
        services.AddScoped<MemberBook>();
        services.AddScoped<LinkBook>();
        services.AddScoped<Recorders>();
    }
}
