using System.Globalization;
using System.Text.RegularExpressions;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>That a mail could not be delivered.</summary>
/// <param name="Permanent">No use in trying again: class 5 of RFC 3463. Class 4 was tried for as long as the other server was patient.</param>
/// <param name="Status">Code of RFC 3463, such as <c>5.1.1</c>.</param>
/// <param name="Detail">What the other server said, on one line. May hold the recipient's address, so it is not logged.</param>
internal sealed partial record DeliveryFailure(bool Permanent, string Status, string Detail)
{
    private const int LongestDetail = 300;

    /// <summary>What the relay said to the recipient's address while the mail was being sent.</summary>
    public static DeliveryFailure OfReply(string reply) => new(true, CodeIn(reply) is ['5', ..] and var code ? code : "5.0.0", OneLine.Of(reply, LongestDetail));

    /// <summary>One recipient's part of a report; null where the codes say that nothing has failed.</summary>
    /// <param name="status">The field Status, which RFC 3464 section 2.3.4 asks for; some leave it out.</param>
    /// <param name="diagnostic">The field Diagnostic-Code, where there is one.</param>
    public static DeliveryFailure? Of(string? status, string? diagnostic)
    {
        var detail = OneLine.Of(diagnostic ?? status ?? "", LongestDetail);
        var code = CodeIn(status) ?? CodeIn(diagnostic) ?? ReplyIn(diagnostic) ?? ReplyIn(status) ?? "4.0.0"; // in doubt, for the address
        return code[0] == '2' ? null : new DeliveryFailure(code[0] == '5', code, detail);
    }

    private static string? CodeIn(string? text)
    {
        if (text is null || StatusCode().Match(text) is not { Success: true } found)
            return null;
        return string.Join('.', found.Value.Split('.').Select(part => int.Parse(part, NumberStyles.None, CultureInfo.InvariantCulture)));
    }

    // "smtp; 550 No such user here": a reply of RFC 5321 without an enhanced code.
    private static string? ReplyIn(string? text) =>
        text is not null && ReplyCode().Match(text) is { Success: true } found ? $"{found.Value[0]}.0.0" : null;

    [GeneratedRegex(@"(?<![\d.])[245]\.\d{1,3}\.\d{1,3}(?![\d.]*\d)")]
    private static partial Regex StatusCode();

    [GeneratedRegex(@"(?<![\d.])[45]\d\d(?![\d.]*\d)")]
    private static partial Regex ReplyCode();
}
