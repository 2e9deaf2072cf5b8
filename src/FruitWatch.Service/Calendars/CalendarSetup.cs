namespace FruitWatch.Service.Calendars;

/// <summary>Puts what deals with calendars among the services.</summary>
internal static class CalendarSetup
{
    public static void AddCalendars(this IServiceCollection services)
    {
        services.AddScoped<CalendarShelf>();
        services.AddSingleton<CalendarReader>();
        services.AddSingleton<CalendarWriter>();
        services.AddSingleton<CalendarPace>();
    }
}
