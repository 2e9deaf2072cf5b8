using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Pages;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;

namespace FruitWatch.Service.Tests.Operating;

/// <summary>What browsers call the service (RFC 6454 section 6.2; WebAuthn level 2 section 5.1.2: a valid domain string).</summary>
public sealed class OriginTests
{
    [Theory]
    [InlineData("https://beds.example/", "https://beds.example", "beds.example")]
    [InlineData("https://bancales.españa.example", "https://bancales.xn--espaa-rta.example", "bancales.xn--espaa-rta.example")]
    [InlineData("https://BEDS.example:8443/x", "https://beds.example:8443", "beds.example")]
    [InlineData("http://localhost:5080", "http://localhost:5080", "localhost")]
    [InlineData("http://[::1]:5080", "http://[::1]:5080", "[::1]")]
    public void It_is_written_in_ascii(string address, string origin, string domain)
    {
        var options = new ServiceOptions { BaseUrl = new Uri(address) };
        Assert.Equal((origin, domain), (options.Origin, options.MessageDomain));
    }

    [Fact]
    public async Task Passkeys_are_made_for_it()
    {
        await using var service = await TestService.StartAsync();
        var passkeys = service.Services.GetRequiredService<IOptions<IdentityPasskeyOptions>>().Value;
        Assert.Equal(service.Services.GetRequiredService<ServiceOptions>().MessageDomain, passkeys.ServerDomain);
    }
}
