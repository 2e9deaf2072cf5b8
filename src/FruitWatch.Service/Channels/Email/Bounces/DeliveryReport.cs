using MimeKit;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>What a message that came to the address of bounces is.</summary>
/// <param name="IsReport">It is a report of delivery (RFC 3464); anything else is left to people.</param>
/// <param name="Failure">What failed; null where nothing has, or not yet.</param>
internal sealed record DeliveryReport(bool IsReport, DeliveryFailure? Failure)
{
    /// <summary>Fields in which servers note to whom a message came; To is what its writer put there.</summary>
    public static readonly IReadOnlyList<string> Received = ["Delivered-To", "X-Original-To", "Envelope-To", "X-Envelope-To", "X-Delivered-To"];

    /// <summary>How deep the parts of a report may lie; RFC 3464 has them at the top, some lists wrap them.</summary>
    private const int Deepest = 4;

    /// <summary>Where a message came to, as far as it says so itself.</summary>
    public static IReadOnlyList<string> Addresses(MimeMessage message) =>
        [.. AddressesOf(message).Distinct(StringComparer.OrdinalIgnoreCase).Take(50)];

    public static DeliveryReport Of(MimeMessage message)
    {
        var status = Find(message.Body, 0);
        return status is null ? new DeliveryReport(false, null) : new DeliveryReport(true, FailureIn(status));
    }

    /// <summary>Whether it is one, without reading what it says.</summary>
    public static bool Is(MimeMessage message) => Find(message.Body, 0) is not null;

    // Not into attached messages: a report about a report is about the outer one.
    private static MessageDeliveryStatus? Find(MimeEntity? part, int depth) => part switch
    {
        MessageDeliveryStatus status => status,
        Multipart parts when depth < Deepest => parts.Select(inner => Find(inner, depth + 1)).FirstOrDefault(found => found is not null),
        _ => null,
    };

    private static IEnumerable<string> AddressesOf(MimeMessage message) =>
        message.To.Mailboxes.Concat(message.Cc.Mailboxes).Select(address => address.Address)
            .Concat(message.Headers.Where(field => Received.Contains(field.Field, StringComparer.OrdinalIgnoreCase)).Select(field => field.Value.Trim().Trim('<', '>')));

    /// <summary>
    /// Each mail has one recipient, but where a forwarder sends it on there can be several groups: it has failed where it failed for all of
    /// them, and for good where it did so for all.
    /// </summary>
    private static DeliveryFailure? FailureIn(MessageDeliveryStatus status)
    {
        var failures = new List<DeliveryFailure>();
        foreach (var group in Groups(status))
        {
            var code = group["Status"];
            if (group["Action"] is null && code is null)
                continue; // the fields of the message as a whole
            if (!Failed(group["Action"], code))
                return null;
            if (DeliveryFailure.Of(code, group["Diagnostic-Code"]) is not { } failure)
                return null;
            failures.Add(failure);
        }

        return failures.MaxBy(failure => failure.Fault);
    }

    // delayed: still tried. delivered, relayed, expanded: not our business any more (RFC 3464 section 2.3.3).
    private static bool Failed(string? action, string? status) => action is null
        ? status?.TrimStart().StartsWith('5') == true
        : action.TrimStart().StartsWith("fail", StringComparison.OrdinalIgnoreCase);

    private static IEnumerable<HeaderList> Groups(MessageDeliveryStatus status)
    {
        try
        {
            return [.. status.StatusGroups];
        }
        catch (FormatException)
        {
            return [];
        }
    }
}
