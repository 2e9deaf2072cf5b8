using MailKit.Search;
using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>
/// What of a message in the mailbox is read whole, as far as its header tells: a report, or one of odd servers that put its parts into another
/// multipart; and what came to an address of ours, which may ask for no more mails. Everything else is nobody's business here.
/// </summary>
internal static class WorthReading
{
    private const string Type = "Content-Type";
    private const string Parts = "multipart/";

    private static readonly string[] s_to = ["To", "Cc", .. DeliveryReport.Received];

    /// <summary>For a server that looks itself (RFC 9051 section 6.4.4).</summary>
    public static SearchQuery Query(BounceOptions options)
    {
        var ours = SignedAddress.BeginningOf(options.Address!);
        return s_to.Aggregate((SearchQuery)SearchQuery.HeaderContains(Type, Parts), (query, field) => query.Or(SearchQuery.HeaderContains(field, ours)));
    }

    /// <summary>For one that does not.</summary>
    public static bool Is(HeaderList header, BounceOptions options)
    {
        var ours = SignedAddress.BeginningOf(options.Address!);
        return header[HeaderId.ContentType]?.TrimStart().StartsWith(Parts, StringComparison.OrdinalIgnoreCase) == true
            || header.Any(field => s_to.Contains(field.Field, StringComparer.OrdinalIgnoreCase) && field.Value.Contains(ours, StringComparison.OrdinalIgnoreCase));
    }
}
