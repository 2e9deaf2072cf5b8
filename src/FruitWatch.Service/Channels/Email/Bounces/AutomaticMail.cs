using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Whether nobody wrote a message: a holiday answer, a report, mail of a list. RFC 3834 sections 2 and 5.</summary>
internal static class AutomaticMail
{
    /// <summary>
    /// The mail programs of one maker call what they send at the press of their button for unsubscribing an automatic answer, and mark it so.
    /// </summary>
    private const string Button = "X-Apple-Unsubscribe";

    /// <summary>Of lists (RFC 2369, RFC 2919), and of programs older than Auto-Submitted.</summary>
    private static readonly string[] s_others = ["List-Id", "List-Post", "List-Unsubscribe", "X-Autoreply", "X-Autorespond"];

    private static readonly string[] s_bulk = ["bulk", "junk", "list"];

    public static bool Is(MimeMessage message)
    {
        var header = message.Headers;
        return DeliveryReport.Is(message)
            || message.Body?.ContentType.IsMimeType("multipart", "report") == true
            || IsReturned(header)
            || (!Says(header, Button, "true") && Words(header, "Auto-Submitted").Any(word => word is not ("" or "no")))
            || Words(header, "Precedence").Any(s_bulk.Contains)
            || header.Any(field => s_others.Contains(field.Field, StringComparer.OrdinalIgnoreCase));
    }

    // Nobody is to be answered there (RFC 5321 section 4.5.5); some servers name their daemon instead.
    private static bool IsReturned(HeaderList header) =>
        Values(header, "Return-Path").Any(path => path.Trim().Trim('<', '>').Trim() is "" || IsDaemon(path)) || Values(header, "From").Any(IsDaemon);

    private static bool IsDaemon(string from) => from.Contains("MAILER-DAEMON", StringComparison.OrdinalIgnoreCase);

    private static bool Says(HeaderList header, string field, string word) => Words(header, field).Contains(word);

    // Without parameters and comments, which may follow.
    private static IEnumerable<string> Words(HeaderList header, string field) =>
        Values(header, field).Select(value => value.Split(';', '(')[0].Trim().ToLowerInvariant());

    private static IEnumerable<string> Values(HeaderList header, string field) =>
        header.Where(one => one.Field.Equals(field, StringComparison.OrdinalIgnoreCase)).Select(one => one.Value);
}
