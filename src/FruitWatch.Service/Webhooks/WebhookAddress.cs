using System.Net;
using FruitWatch.Feeds;

namespace FruitWatch.Service.Webhooks;

/// <summary>What is wrong with the address of a receiver.</summary>
internal enum AddressRefusal
{
    /// <summary>It is no web address.</summary>
    NotAnAddress,

    /// <summary>It does not use TLS.</summary>
    NotHttps,

    /// <summary>It holds a user name, a password, or a part behind #.</summary>
    TooMuchInIt,

    /// <summary>It is not on the open internet.</summary>
    NotPublic,

    /// <summary>It names a port of its own.</summary>
    OtherPort,
}

/// <summary>
/// The rules of a receiver's address. A friendly word early on: what counts is the address that its name leads to when it is connected
/// to, see <see cref="GuardedConnector"/>.
/// </summary>
internal static class WebhookAddress
{
    public const int Longest = 500;

    // RFC 6761, RFC 6762, RFC 8375, and the name ICANN has set aside for private use.
    private static readonly string[] s_innerNames = ["localhost", "local", "internal", "home.arpa"];

    /// <summary>What is wrong with it; null where nothing is.</summary>
    /// <param name="text">As it was typed.</param>
    /// <param name="allowed">Endpoints that the operator allows on the own network and without TLS.</param>
    public static AddressRefusal? Check(string text, IReadOnlySet<string> allowed)
    {
        if (text.Length > Longest || text.Any(c => char.IsControl(c) || char.IsWhiteSpace(c))
            || !Uri.TryCreate(text, UriKind.Absolute, out var uri) || uri.Host.Length == 0
            || (uri.Scheme != Uri.UriSchemeHttps && uri.Scheme != Uri.UriSchemeHttp))
            return AddressRefusal.NotAnAddress;
        if (uri.UserInfo.Length > 0 || uri.Fragment.Length > 0)
            return AddressRefusal.TooMuchInIt;
        if (allowed.Contains($"{uri.IdnHost}:{uri.Port}"))
            return null;
        if (uri.Scheme != Uri.UriSchemeHttps)
            return AddressRefusal.NotHttps;
        if (IsInner(uri))
            return AddressRefusal.NotPublic;
        return uri.IsDefaultPort ? null : AddressRefusal.OtherPort;
    }

    private static bool IsInner(Uri uri)
    {
        var host = uri.IdnHost.Trim('[', ']').TrimEnd('.');
        if (IPAddress.TryParse(host, out var literal))
            return !PublicAddresses.IsPublic(literal);
        return !host.Contains('.', StringComparison.Ordinal)
            || s_innerNames.Any(name => host.EndsWith("." + name, StringComparison.OrdinalIgnoreCase));
    }
}
