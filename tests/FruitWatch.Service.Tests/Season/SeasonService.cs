using System.Globalization;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.Season;

/// <summary>A running service with the orchard among its sites.</summary>
public sealed class SeasonService : IAsyncLifetime
{
    internal TestService Service { get; private set; } = null!;

    internal long Orchard { get; private set; }

    /// <summary>Address of the orchard's plan in the API.</summary>
    internal string Plan => string.Create(CultureInfo.InvariantCulture, $"/api/v1/sites/{Orchard}/season");

    /// <summary>Address of its page.</summary>
    internal string Page => string.Create(CultureInfo.InvariantCulture, $"/sites/{Orchard}/season");

    public async ValueTask InitializeAsync()
    {
        Service = await TestService.StartAsync();
        await using var store = Service.Store();
        Orchard = await Season.Orchard.AddAsync(store, Service.Invented);
    }

    public async ValueTask DisposeAsync()
    {
        if (Service is not null)
            await Service.DisposeAsync();
    }
}
