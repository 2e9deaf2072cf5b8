namespace FruitWatch.Service.Tests.Pages;

/// <summary>One running service for the tests of a class that leave each other's rows alone.</summary>
public sealed class OneService : IAsyncLifetime
{
    internal TestService Service { get; private set; } = null!;

    public async ValueTask InitializeAsync() => Service = await TestService.StartAsync();

    public async ValueTask DisposeAsync()
    {
        if (Service is not null)
            await Service.DisposeAsync();
    }
}
