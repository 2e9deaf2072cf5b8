using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;

namespace FruitWatch.Service.Wishes;

/// <summary>What an unsubscribe link ends.</summary>
internal enum StopTopic : byte
{
    /// <summary>The morning mail.</summary>
    Digest = 1,

    /// <summary>Urgent notices outside it.</summary>
    Urgent = 2,
}

/// <summary>An unsubscribe link: whose, and of what.</summary>
/// <param name="PersonId">Whose mail it stands in.</param>
/// <param name="Topic">What it ends.</param>
internal sealed record StopLink(long PersonId, StopTopic Topic);

/// <summary>
/// Makes and reads unsubscribe links. They work for years, for people unsubscribe from old mails. So they end something, and begin nothing
/// but what such a link has ended; see <see cref="StopLimit"/>.
/// </summary>
internal sealed class StopLinks(MailKey key, StopAddresses addresses, ServiceOptions options)
{
    /// <summary>Path before the token.</summary>
    public const string Path = "/stop/";

    private const string Purpose = "stop.v1";

    /// <summary>The address that stands in the mail.</summary>
    public string AddressOf(StopLink link)
    {
        using var content = new MemoryStream(12);
        using var writer = new BinaryWriter(content);
        writer.Write((byte)link.Topic);
        writer.Write7BitEncodedInt64(link.PersonId);
        return options.BaseUrl.AbsoluteUri.TrimEnd('/') + Path + key.Sign(Purpose, content.GetBuffer().AsSpan(0, (int)content.Length));
    }

    /// <summary>What a token stands for; null for one that is not ours.</summary>
    public StopLink? Read(string token)
    {
        if (key.Open(Purpose, token) is not { } content)
            return null;
        using var reader = new BinaryReader(new MemoryStream(content));
        var topic = (StopTopic)reader.ReadByte();
        return new StopLink(reader.Read7BitEncodedInt64(), topic);
    }

    /// <summary>
    /// Header fields for unsubscribing with one click (RFC 2369 section 3.2; RFC 8058 section 3.1): the link first, which works at once, and
    /// then an address for those mail programs that know no other way. RFC 6068 leaves the plus sign as it is.
    /// </summary>
    public IEnumerable<KeyValuePair<string, string>> HeadersOf(StopLink link) =>
    [
        new("List-Unsubscribe", addresses.Of(link) is { } address ? $"<{AddressOf(link)}>, <mailto:{address}?subject=unsubscribe>" : $"<{AddressOf(link)}>"),
        new("List-Unsubscribe-Post", "List-Unsubscribe=One-Click"),
    ];
}
