using System.Net;
using FruitWatch.Service.Operating;
using Microsoft.AspNetCore.HttpOverrides;

namespace FruitWatch.Service.Web;

/// <summary>Proxies that stand before the service, as the operator names them. What anybody else says of where they come from is not believed.</summary>
internal static class Proxies
{
    public static void AddProxies(this IServiceCollection services) => services.AddOptions<ForwardedHeadersOptions>().Configure<ServiceOptions>((forwarded, service) =>
    {
        forwarded.KnownProxies.Clear();
        forwarded.KnownIPNetworks.Clear();
        foreach (var proxy in service.Proxies)
        {
            if (IPAddress.TryParse(proxy, out var address))
                forwarded.KnownProxies.Add(address);
            else if (System.Net.IPNetwork.TryParse(proxy, out var network))
                forwarded.KnownIPNetworks.Add(network);
            else
                throw new VerbException($"{ServiceOptions.Section}:Proxies holds \"{proxy}\". Write an address such as 10.0.0.5, or a network such as 10.0.0.0/24.");
        }

        // Without one, nobody's word is taken: an empty list would mean everybody's.
        forwarded.ForwardedHeaders = service.Proxies.Count == 0 ? ForwardedHeaders.None : ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto;
    });
}
