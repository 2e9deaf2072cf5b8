using System.Net;
using Microsoft.Security.AntiSSRF;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class PublicAddressesTests
{
    /// <summary>IANA IPv4 and IPv6 Special-Purpose Address Registries; RFC 5771 and RFC 4291 for multicast; RFC 3879 for site-local.</summary>
    public static TheoryData<string> Special =>
    [
        "0.0.0.0/8", "0.0.0.0/32", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12", "192.0.0.0/24",
        "192.0.0.0/29", "192.0.0.8/32", "192.0.0.9/32", "192.0.0.10/32", "192.0.0.170/32", "192.0.0.171/32", "192.0.2.0/24",
        "192.31.196.0/24", "192.52.193.0/24", "192.88.99.0/24", "192.168.0.0/16", "192.175.48.0/24", "198.18.0.0/15",
        "198.51.100.0/24", "203.0.113.0/24", "224.0.0.0/4", "240.0.0.0/4", "255.255.255.255/32",
        "::1/128", "::/128", "::/96", "64:ff9b::/96", "64:ff9b:1::/48", "100::/64", "100:0:0:1::/64", "2001::/23",
        "2001::/32", "2001:1::1/128", "2001:1::2/128", "2001:1::3/128", "2001:2::/48", "2001:3::/32", "2001:4:112::/48",
        "2001:10::/28", "2001:20::/28", "2001:30::/28", "2001:db8::/32", "2002::/16", "2620:4f:8000::/48", "3fff::/20",
        "5f00::/16", "fc00::/7", "fe80::/10", "fec0::/10", "ff00::/8",
    ];

    [Theory]
    [MemberData(nameof(Special))]
    public void What_the_registries_set_aside_is_not_public(string network) => Assert.All(Edges(IPNetwork.Parse(network)), NotPublic);

    [Theory]
    [InlineData("8.8.8.8")]
    [InlineData("1.1.1.1")]
    [InlineData("9.255.255.255")]
    [InlineData("11.0.0.0")]
    [InlineData("100.63.255.255")]
    [InlineData("100.128.0.0")]
    [InlineData("126.255.255.255")]
    [InlineData("128.0.0.0")]
    [InlineData("169.253.255.255")]
    [InlineData("169.255.0.0")]
    [InlineData("172.15.255.255")]
    [InlineData("172.32.0.0")]
    [InlineData("192.167.255.255")]
    [InlineData("192.169.0.0")]
    [InlineData("198.17.255.255")]
    [InlineData("198.20.0.0")]
    [InlineData("223.255.255.255")]
    [InlineData("::ffff:8.8.8.8")]
    [InlineData("2001:200::1")]
    [InlineData("2001:4860:4860::8888")]
    [InlineData("2606:4700:4700::1111")]
    [InlineData("2a00:1450::1")]
    public void What_lies_beside_them_is(string address) => Assert.True(PublicAddresses.IsPublic(IPAddress.Parse(address)));

    [Fact]
    public void Nothing_a_library_for_this_purpose_denies_is_public()
    {
        var denied = new AntiSSRFPolicy(PolicyConfigOptions.ExternalOnlyLatest).DeniedAddresses;
        Assert.True(denied.Count > 20, "the list came out too short to show anything");
        Assert.All(denied, network => Assert.All(Edges(IPNetwork.Parse(network)), NotPublic));
    }

    private static void NotPublic(IPAddress address) => Assert.False(PublicAddresses.IsPublic(address), address.ToString());

    /// <summary>The first, the last and a middle address.</summary>
    private static IEnumerable<IPAddress> Edges(IPNetwork network)
    {
        var last = network.BaseAddress.GetAddressBytes();
        for (var bit = network.PrefixLength; bit < last.Length * 8; bit++)
            last[bit / 8] |= (byte)(0x80 >> (bit % 8));
        var middle = network.BaseAddress.GetAddressBytes();
        if (network.PrefixLength < middle.Length * 8)
            middle[network.PrefixLength / 8] |= (byte)(0x80 >> (network.PrefixLength % 8));
        return [network.BaseAddress, new IPAddress(middle), new IPAddress(last)];
    }
}
