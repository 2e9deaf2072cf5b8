using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;
using NodaTime;

namespace FruitWatch.Service.Deeds;

/// <summary>What somebody can tell the service from a mail with one tap.</summary>
internal enum Deed : byte
{
    /// <summary>The water that the notice asked for was given.</summary>
    Watered = 1,

    /// <summary>The cover is on.</summary>
    CoverOn = 2,

    /// <summary>The cover is off.</summary>
    CoverOff = 3,

    /// <summary>Pins are there.</summary>
    PinsSeen = 4,

    /// <summary>Not today: tell me again.</summary>
    Snooze = 5,
}

/// <summary>A link of a mail: it does one thing, about one notice as it stood, for one person, and for some days.</summary>
/// <param name="Deed">What.</param>
/// <param name="NoticeId">About which notice.</param>
/// <param name="Revision">As how often that had changed.</param>
/// <param name="PersonId">In whose mail it stands.</param>
/// <param name="Until">Of no use from then on; in whole minutes.</param>
internal sealed record DeedLink(Deed Deed, long NoticeId, int Revision, long PersonId, Instant Until);

/// <summary>Makes and reads links that act. They sign nobody in.</summary>
internal sealed class DeedLinks(MailKey key, ServiceOptions options)
{
    /// <summary>Path before the token.</summary>
    public const string Path = "/do/";

    /// <summary>After that the day they speak of is long over.</summary>
    public static readonly Duration For = Duration.FromHours(72);

    private const string Purpose = "deed.v1";

    /// <summary>The address that stands in the mail.</summary>
    public string AddressOf(DeedLink link) => options.BaseUrl.AbsoluteUri.TrimEnd('/') + Path + TokenOf(link);

    /// <summary>The part of it that is known to the person alone.</summary>
    public string TokenOf(DeedLink link)
    {
        using var content = new MemoryStream(24);
        using var writer = new BinaryWriter(content);
        writer.Write((byte)link.Deed);
        writer.Write7BitEncodedInt64(link.NoticeId);
        writer.Write7BitEncodedInt(link.Revision);
        writer.Write7BitEncodedInt64(link.PersonId);
        writer.Write7BitEncodedInt64(link.Until.ToUnixTimeSeconds() / 60);
        return key.Sign(Purpose, content.GetBuffer().AsSpan(0, (int)content.Length));
    }

    /// <summary>What a token stands for; null for one that is not ours. Whether its time has passed is for the caller to ask.</summary>
    public DeedLink? Read(string token)
    {
        if (key.Open(Purpose, token) is not { } content)
            return null;
        using var reader = new BinaryReader(new MemoryStream(content));
        return new DeedLink(
            (Deed)reader.ReadByte(),
            reader.Read7BitEncodedInt64(),
            reader.Read7BitEncodedInt(),
            reader.Read7BitEncodedInt64(),
            Instant.FromUnixTimeSeconds(reader.Read7BitEncodedInt64() * 60));
    }
}
