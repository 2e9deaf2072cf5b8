using System.Text.Json;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Operating;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Channels.Email;

/// <summary>A mail to a member, ready for the outbox.</summary>
internal static class NewMail
{
    /// <summary>The mail. Its Message-ID comes from its key, so that it is the same however often it is written or sent.</summary>
    /// <param name="person">To whom.</param>
    /// <param name="key">What it is for; see <see cref="OutgoingMail.Key"/>.</param>
    /// <param name="written">What it says.</param>
    /// <param name="options">For the domain of its Message-ID.</param>
    /// <param name="now">The time.</param>
    /// <param name="notAfter">Of no use from then on.</param>
    /// <param name="headers">Further header fields.</param>
    /// <param name="notBefore">To be held until then; null for at once.</param>
    public static OutgoingMail To(
        Person person,
        string key,
        DigestMail written,
        ServiceOptions options,
        Instant now,
        Instant notAfter,
        IEnumerable<KeyValuePair<string, string>>? headers = null,
        Instant? notBefore = null) => new()
        {
            Key = key,
            CooperativeId = person.CooperativeId,
            PersonId = person.Id,
            ToName = person.Name,
            ToAddress = person.Email,
            Subject = written.Subject,
            TextBody = written.Text,
            HtmlBody = written.Html,
            MessageId = $"{key.Replace(':', '.')}@{options.MessageDomain}",
            Headers = headers is null ? null : JsonSerializer.Serialize(new Dictionary<string, string>(headers)),
            State = MailState.Pending,
            NextTryAt = notBefore ?? now,
            NotAfter = notAfter,
            CreatedAt = now,
        };
}
