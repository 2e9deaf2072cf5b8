using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Operating;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.People;

/// <summary>
/// Invitations by mail. The row and the mail are saved together; the secret stands in the mail alone. A new invitation voids the ones
/// before it: one at most can be accepted. Until then the address counts as nobody's, and is sent nothing else.
/// </summary>
internal sealed class Invitations(FruitWatchStore store, Visitor visitor, MailSecrets secrets, ServiceOptions options, IClock clock)
{
    /// <summary>How long an invitation can be accepted.</summary>
    public static readonly Duration Life = Duration.FromDays(7);

    /// <summary>So many in an hour and cooperative: nobody's mailbox is filled through us.</summary>
    public const int MostAnHour = RateLimits.MailsPerHour;

    /// <summary>Keys of their mails begin so.</summary>
    public const string KeyPrefix = "invitation:";

    /// <summary>Key of the mail that holds an invitation.</summary>
    public static string KeyOf(long invitationId) => FormattableString.Invariant($"{KeyPrefix}{invitationId}");

    /// <summary>Until when each person can accept; those who cannot are left out.</summary>
    public async Task<Dictionary<long, Instant>> OpenAsync(CancellationToken stop, long? personId = null)
    {
        var now = clock.GetCurrentInstant();
        var open = await store.Invitations.AsNoTracking()
            .Where(row => row.AcceptedAt == null && row.ExpiresAt > now && (personId == null || row.PersonId == personId))
            .Select(row => new { row.PersonId, row.ExpiresAt }).ToListAsync(stop);
        return open.GroupBy(row => row.PersonId).ToDictionary(rows => rows.Key, rows => rows.Max(row => row.ExpiresAt));
    }

    /// <summary>Invites somebody; once more, where they were invited before. Call it within a transaction.</summary>
    /// <exception cref="MemberRefusedException">They accepted, have no address, or too many were invited.</exception>
    public async Task SendAsync(Person person, CancellationToken stop)
    {
        if (person.Email.Length == 0)
            throw new MemberRefusedException(MemberRefusal.NoAddress);
        if (person is { AccountId: not null, EmailConfirmedAt: not null })
            throw new MemberRefusedException(MemberRefusal.HasAccepted);
        var now = clock.GetCurrentInstant();
        var hourAgo = now - Duration.FromHours(1);
        if (await store.Invitations.CountAsync(row => row.SentAt > hourAgo, stop) >= MostAnHour)
            throw new MemberRefusedException(MemberRefusal.TooOften);
        await VoidAsync(person.Id, now, stop);
        var secret = Secrets.Draw();
        var invitation = new Invitation
        {
            CooperativeId = person.CooperativeId,
            PersonId = person.Id,
            Hash = Secrets.Hash(secret),
            SentAt = now,
            ExpiresAt = now + Life,
        };
        store.Invitations.Add(invitation);
        await store.SaveChangesAsync(stop);
        store.Outbox.Add(MailOf(invitation, person, secret));
        await store.SaveChangesAsync(stop);
    }

    /// <summary>Takes back what is open, and the mail where it has not gone yet.</summary>
    public async Task TakeBackAsync(Person person, CancellationToken stop)
    {
        await VoidAsync(person.Id, clock.GetCurrentInstant(), stop);
        await store.SaveChangesAsync(stop);
    }

    private async Task VoidAsync(long personId, Instant now, CancellationToken stop)
    {
        var open = await store.Invitations.Where(row => row.PersonId == personId && row.AcceptedAt == null && row.ExpiresAt > now).ToListAsync(stop);
        foreach (var row in open)
        {
            row.ExpiresAt = now;
            var key = KeyOf(row.Id);
            await store.Outbox.Where(mail => mail.Key == key && mail.State == MailState.Pending)
                .ExecuteUpdateAsync(mail => mail.SetProperty(one => one.State, MailState.Expired), stop);
        }
    }

    private OutgoingMail MailOf(Invitation invitation, Person person, string secret)
    {
        var key = KeyOf(invitation.Id);
        var zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(person.ZoneId ?? visitor.Person?.ZoneId ?? "") ?? DateTimeZone.Utc;
        var link = SignInAddresses.Invitation(options.BaseUrl, secrets.Seal(key, secret));
        var mail = InvitationWriter.Write(
            person, visitor.Person?.Name, visitor.Cooperative!.Name, link, invitation.ExpiresAt.InZone(zone).LocalDateTime.Date, Words.For(person.Language));
        return NewMail.To(person, key, mail, options, invitation.SentAt, invitation.ExpiresAt);
    }
}
