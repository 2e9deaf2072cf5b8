using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Channels.Email.Bounces;

namespace FruitWatch.Service.Wishes;

/// <summary>
/// Addresses that unsubscribe whoever's mail they stand in: a message to one is enough, whatever it says. They are in the mailbox of
/// bounces, so that there are none where nobody reads that.
/// </summary>
internal sealed class StopAddresses(MailOptions options, MailKey key)
{
    /// <summary>The address that stands in the mail; null where nobody would read what comes to it.</summary>
    public string? Of(StopLink link) =>
        options.Bounces.IsRead ? SignedAddress.Plain(Signed.Of(PurposeOf(link.Topic), link.PersonId)) : null;

    /// <summary>What an address stands for; null for one that is not ours.</summary>
    public StopLink? Read(string address)
    {
        if (!options.Bounces.IsRead)
            return null;
        foreach (var topic in Enum.GetValues<StopTopic>())
        {
            if (Signed.NumberIn(PurposeOf(topic), address) is { } person)
                return new StopLink(person, topic);
        }

        return null;
    }

    private SignedAddress Signed => new(options.Bounces.Address!, key);

    // What it ends is signed, and need not be written out: before the @ of an address is little room.
    private static string PurposeOf(StopTopic topic) => FormattableString.Invariant($"stop-mail.v1.{(byte)topic}");
}
