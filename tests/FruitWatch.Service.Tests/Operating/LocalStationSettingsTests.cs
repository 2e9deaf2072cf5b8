using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Operating;

public sealed class LocalStationSettingsTests
{
    [Fact]
    public void A_station_is_allowed_by_the_host_and_port_set()
    {
        using var services = Services("192.168.1.20:8080").BuildServiceProvider();
        Assert.Equal(["192.168.1.20:8080"], services.GetRequiredService<FeedClientOptions>().LocalStations);
    }

    [Fact]
    public void A_station_without_its_port_stops_the_start_and_the_setting_is_named()
    {
        var error = Assert.Throws<VerbException>(() => Services("192.168.1.20"));
        Assert.Contains("FruitWatch:LocalStations holds \"192.168.1.20\"", error.Message, StringComparison.Ordinal);
    }

    private static ServiceCollection Services(string station)
    {
        var configuration = new ConfigurationBuilder()
            .AddInMemoryCollection(new Dictionary<string, string?> { ["FruitWatch:LocalStations:0"] = station }).Build();
        var services = new ServiceCollection();
        services.AddSingleton<IConfiguration>(configuration);
        ServiceHost.AddServices(services, configuration);
        return services;
    }
}
