namespace FruitWatch.Feeds;

/// <summary>
/// A connection was refused before it was opened, because the host is not on the open internet or the port is none of the
/// web's. The message names the host as it was asked for, never the address behind it.
/// </summary>
public sealed class BlockedAddressException : IOException
{
    internal BlockedAddressException(string host, int port)
        : base(FormattableString.Invariant($"{host}:{port} is not an address of the open web."))
    {
    }
}
