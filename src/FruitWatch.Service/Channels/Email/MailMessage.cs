using System.Globalization;
using System.Text;
using System.Text.Json;
using FruitWatch.Store.Entities;
using MimeKit;

namespace FruitWatch.Service.Channels.Email;

/// <summary>
/// A mail of the outbox as a message. Equal rows give equal bytes: Message-ID, date and boundary come from the row, so that a second
/// attempt sends the same message and a receiver can drop the copy.
/// </summary>
internal static class MailMessage
{
    private const int LongestName = 100;
    private const int LongestSubject = 200;

    private static readonly HashSet<string> s_own = new(StringComparer.OrdinalIgnoreCase)
    {
        "From", "Sender", "To", "Cc", "Bcc", "Reply-To", "Return-Path", "Subject", "Date", "Message-Id", "MIME-Version", "Received",
        "Content-Type", "Content-Transfer-Encoding", "Auto-Submitted", "X-Auto-Response-Suppress",
    };

    /// <exception cref="MailException">The row has an address, a Message-ID or a header field that cannot be sent.</exception>
    public static MimeMessage Of(OutgoingMail mail, MailOptions options)
    {
        var message = new MimeMessage { Date = mail.CreatedAt.ToDateTimeOffset() };
        message.From.Add(new MailboxAddress(OneLine.Of(options.FromName, LongestName), options.FromAddress.Trim()));
        message.To.Add(Recipient(mail));
        message.Subject = OneLine.Of(mail.Subject, LongestSubject);
        SetMessageId(message, mail.MessageId);
        message.Headers.Add("Auto-Submitted", "auto-generated"); // RFC 3834 section 5
        message.Headers.Add("X-Auto-Response-Suppress", "All"); // the same, for Exchange
        AddHeaders(message, mail.Headers);
        message.Body = Body(mail);
        message.Prepare(EncodingConstraint.SevenBit);
        return message;
    }

    // Text first: a reader shows the last part that it understands (RFC 2046 section 5.1.4).
    private static MultipartAlternative Body(OutgoingMail mail) => new(
        new TextPart("plain") { Text = mail.TextBody },
        new TextPart("html") { Text = mail.HtmlBody })
    {
        Boundary = string.Create(CultureInfo.InvariantCulture, $"=-FruitWatch-{mail.Id}"),
    };

    private static MailboxAddress Recipient(OutgoingMail mail)
    {
        var address = mail.ToAddress.Trim();
        if (!MailOptions.IsOneAddress(address))
            throw new MailException("The recipient's address is not one address. Correct it with the person.");
        return new MailboxAddress(OneLine.Of(mail.ToName, LongestName), address);
    }

    private static void SetMessageId(MimeMessage message, string id)
    {
        const string problem = "The Message-ID cannot be sent; it has to be of the form digest.17.2026-10-05@example.org.";
        if (!Ascii.IsValid(id))
            throw new MailException(problem);
        try
        {
            message.MessageId = id;
        }
        catch (ArgumentException unusable)
        {
            throw new MailException(problem, unusable);
        }

        if (message.MessageId != id)
            throw new MailException(problem);
    }

    private static void AddHeaders(MimeMessage message, string? json)
    {
        if (string.IsNullOrWhiteSpace(json))
            return;
        foreach (var (name, value) in ReadHeaders(json))
        {
            if (s_own.Contains(name))
                throw new MailException($"The header field {OneLine.Of(name, 40)} is not one that a mail may add.");
            try
            {
                message.Headers.Add(name, OneLine.Of(value));
            }
            catch (ArgumentException unusable)
            {
                throw new MailException($"\"{OneLine.Of(name, 40)}\" cannot be the name of a header field.", unusable);
            }
        }
    }

    private static Dictionary<string, string> ReadHeaders(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<Dictionary<string, string>>(json) ?? [];
        }
        catch (JsonException unreadable)
        {
            throw new MailException("The further header fields are not a JSON object of texts.", unreadable);
        }
    }
}
