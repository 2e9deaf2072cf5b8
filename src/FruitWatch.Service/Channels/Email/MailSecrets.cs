using System.Security.Cryptography;
using System.Text.RegularExpressions;
using FruitWatch.Service.People;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.DataProtection;

namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// Secrets in mails, such as that of an invitation. In the outbox, and so on the pages of mails, in exports and in copies of the store,
/// they stand sealed; they are opened when the mail goes out, and taken out of the row once that is finished, see
/// <see cref="FinishedMails"/>. A sealed secret opens in the mail that it was sealed for only: put into the name of a bed it stays what it is.
/// </summary>
internal sealed partial class MailSecrets(IDataProtectionProvider protection)
{
    /// <summary>What stands where a secret is not shown.</summary>
    public const string Instead = "…";

    /// <summary>A secret as it is put into the bodies of a mail.</summary>
    /// <param name="mailKey">Key of the mail; see <see cref="OutgoingMail.Key"/>.</param>
    /// <param name="secret">The secret.</param>
    public string Seal(string mailKey, string secret) => $"[sealed:{ProtectorOf(mailKey).Protect(secret)}]";

    /// <summary>The mail as it goes out.</summary>
    /// <exception cref="MailException">A secret was sealed with keys that the service no longer has.</exception>
    public OutgoingMail Open(OutgoingMail mail)
    {
        if (!HasAny(mail))
            return mail;
        return new OutgoingMail
        {
            Id = mail.Id,
            Key = mail.Key,
            CooperativeId = mail.CooperativeId,
            PersonId = mail.PersonId,
            ToName = mail.ToName,
            ToAddress = mail.ToAddress,
            Subject = mail.Subject,
            TextBody = Open(mail.Key, mail.TextBody),
            HtmlBody = Open(mail.Key, mail.HtmlBody),
            MessageId = mail.MessageId,
            Headers = mail.Headers,
            State = mail.State,
            Attempts = mail.Attempts,
            NextTryAt = mail.NextTryAt,
            NotAfter = mail.NotAfter,
            Owner = mail.Owner,
            LeaseUntil = mail.LeaseUntil,
            CreatedAt = mail.CreatedAt,
            SentAt = mail.SentAt,
            LastError = mail.LastError,
        };
    }

    /// <summary>Whether a mail holds a sealed secret.</summary>
    public static bool HasAny(OutgoingMail mail) => HasAny(mail.TextBody) || HasAny(mail.HtmlBody);

    /// <summary>A body as it may be shown to anybody, and kept: without what is sealed, and without links that act.</summary>
    public static string Hide(string body) => Acting().Replace(Sealed().Replace(body, Instead), "$1" + Instead);

    private static bool HasAny(string body) => Sealed().IsMatch(body) || Acting().IsMatch(body);

    private string Open(string key, string body)
    {
        var (opened, shut) = (false, false);
        var text = Sealed().Replace(body, found =>
        {
            try
            {
                var secret = ProtectorOf(key).Unprotect(found.Groups[1].Value);
                opened = true;
                return secret;
            }
            catch (CryptographicException)
            {
                // Text of somebody that looks like one.
                shut = true;
                return found.Value;
            }
        });
        if (shut && !opened && HoldsOne(key))
            throw new MailException("Its secret was sealed with keys that the service no longer has. Send it again.");
        return text;
    }

    /// <summary>Whether mails of this kind are of no use without their secret. In all others what looks like one is somebody's text.</summary>
    private static bool HoldsOne(string key) => key.StartsWith(Invitations.KeyPrefix, StringComparison.Ordinal);

    private IDataProtector ProtectorOf(string mailKey) => protection.CreateProtector("MailSecret.v1", mailKey);

    // Links of DeedLinks and StopLinks.
    [GeneratedRegex("(/(?:do|stop)/)[A-Za-z0-9_-]{20,200}")]
    private static partial Regex Acting();

    [GeneratedRegex(@"\[sealed:([A-Za-z0-9_-]{20,1000})\]")]
    private static partial Regex Sealed();
}
