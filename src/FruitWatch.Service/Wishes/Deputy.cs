using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Wishes;

/// <summary>Why somebody who may be told in another's place may not hear of it after all.</summary>
internal enum DeputyDoubt
{
    /// <summary>Mail to their address comes back, and nothing is sent there.</summary>
    MailPaused,

    /// <summary>They want no morning mail.</summary>
    NoDigests,

    /// <summary>They want to be told of nothing at once.</summary>
    NoUrgent,

    /// <summary>They have a pause of their own, now or later.</summary>
    Away,
}

/// <summary>Somebody who may be told in another's place.</summary>
/// <param name="Person">Who.</param>
/// <param name="Doubts">Why they may not hear of it.</param>
internal sealed record Deputy(Person Person, IReadOnlyList<DeputyDoubt> Doubts)
{
    /// <param name="person">Who.</param>
    /// <param name="past">A day that is past everywhere.</param>
    public static IEnumerable<DeputyDoubt> DoubtsOf(Person person, LocalDate past)
    {
        if (person.MailPausedAt is not null)
            yield return DeputyDoubt.MailPaused;
        if (person.Digests == DigestWish.Never)
            yield return DeputyDoubt.NoDigests;
        if (person.Urgent == UrgentWish.Never)
            yield return DeputyDoubt.NoUrgent;
        if (person.AwayUntil > past)
            yield return DeputyDoubt.Away;
    }
}
