using System.Net;
using System.Net.Sockets;

namespace FruitWatch.Feeds;

/// <summary>
/// Tells addresses of the open internet from all others: the own machine, the own network, a cloud's inner services, and
/// ranges that stand for something else. What users may have us ask must be one of the first kind.
/// </summary>
/// <remarks>Sources: IANA IPv4 and IPv6 Special-Purpose Address Registries; RFC 6890, RFC 8190, RFC 9637.</remarks>
public static class PublicAddresses
{
    private static readonly IPNetwork[] Special4 = Networks(
        "0.0.0.0/8", // this network
        "10.0.0.0/8", // private
        "100.64.0.0/10", // behind a provider's translation
        "127.0.0.0/8", // loopback
        "168.63.129.16/32", // the inner service address of one large cloud, though it looks public
        "169.254.0.0/16", // link-local, and the metadata services of clouds
        "172.16.0.0/12", // private
        "192.0.0.0/24", // protocol assignments
        "192.0.2.0/24", // documentation
        "192.31.196.0/24", // sinks for lookups of private addresses
        "192.52.193.0/24", // multicast tunnelling
        "192.88.99.0/24", // 6to4 relays
        "192.168.0.0/16", // private
        "192.175.48.0/24", // sinks for lookups of private addresses
        "198.18.0.0/15", // benchmarking
        "198.51.100.0/24", // documentation
        "203.0.113.0/24", // documentation
        "224.0.0.0/4", // multicast
        "240.0.0.0/4"); // reserved, and broadcast

    // Only 2000::/3 is given out as global unicast, so loopback, unique local, link-local, site-local and multicast addresses
    // and the translation prefixes 64:ff9b::/96 and 64:ff9b:1::/48 are out with everything else that is not.
    private static readonly IPNetwork Global6 = IPNetwork.Parse("2000::/3");

    private static readonly IPNetwork[] Special6 = Networks(
        "2001::/23", // protocol assignments: Teredo, benchmarking, ORCHID, multicast tunnelling
        "2001:db8::/32", // documentation
        "2002::/16", // 6to4, which holds any IPv4 address
        "2620:4f:8000::/48", // sinks for lookups of private addresses
        "3fff::/20"); // documentation

    /// <summary>Whether the address belongs to the open internet.</summary>
    public static bool IsPublic(IPAddress address)
    {
        ArgumentNullException.ThrowIfNull(address);
        if (address.IsIPv4MappedToIPv6)
            address = address.MapToIPv4();
        return address.AddressFamily switch
        {
            AddressFamily.InterNetwork => !Special4.Any(network => network.Contains(address)),
            AddressFamily.InterNetworkV6 => Global6.Contains(address) && !Special6.Any(network => network.Contains(address)),
            _ => false,
        };
    }

    private static IPNetwork[] Networks(params string[] networks) => [.. networks.Select(network => IPNetwork.Parse(network))];
}
