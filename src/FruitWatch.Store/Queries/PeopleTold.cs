using FruitWatch.Store.Entities;

namespace FruitWatch.Store.Queries;

/// <summary>Who may be written to.</summary>
public static class PeopleTold
{
    /// <summary>
    /// Members whose address is known to be theirs, and takes mail. A farm hand can work from a link while the invitation to the address that somebody
    /// entered for them is not accepted; until it is, nothing else is sent there.
    /// </summary>
    public static IQueryable<Person> PeopleToTell(this FruitWatchStore store) => store.People.Where(person =>
        person.Active && person.EmailNormalized != "" && person.MailPausedAt == null
        && (person.EmailConfirmedAt != null || person.Role != Role.FarmHand || !store.Invitations.Any(sent => sent.PersonId == person.Id)));
}
