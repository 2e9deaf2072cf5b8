namespace FruitWatch.Service.Wishes;

/// <summary>Puts what deals with people's wishes among the services.</summary>
internal static class WishesSetup
{
    public static void AddWishes(this IServiceCollection services)
    {
        services.AddScoped<WishBook>();
        services.AddScoped<TestMessages>();
    }
}
