using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>That nothing more is sent to somebody's address.</summary>
internal static class MailPause
{
    /// <summary>Mail is sent to them again: the address was corrected, or its holder has shown that mail arrives there.</summary>
    public static void End(Person person) => (person.MailPausedAt, person.MailPausedWhy) = (null, null);
}
