using System.Globalization;
using System.Text.RegularExpressions;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Whose fault it is that a mail was not delivered.</summary>
internal enum Fault
{
    /// <summary>The mailbox is not there, or takes no mail: no use in trying again.</summary>
    Mailbox,

    /// <summary>The mailbox may be well again later, or nobody can say: it was tried for as long as the other server was patient.</summary>
    Passing,

    /// <summary>Not the mailbox's: the way there, what was sent, or who sends it. That is for the operator to mend.</summary>
    Elsewhere,
}

/// <summary>That a mail could not be delivered.</summary>
/// <param name="Fault">Whose fault it is.</param>
/// <param name="Status">Code of RFC 3463, such as <c>5.1.1</c>.</param>
/// <param name="Detail">What the other server said, on one line. May hold the recipient's address, so it is not logged.</param>
internal sealed partial record DeliveryFailure(Fault Fault, string Status, string Detail)
{
    private const int LongestDetail = 300;

    /// <summary>What the relay said to the recipient's address while the mail was being sent: a code of three digits, then its words.</summary>
    public static DeliveryFailure OfReply(string reply)
    {
        var detail = OneLine.Of(reply, LongestDetail);
        // RFC 2034 section 4: an enhanced code stands first, and is of the class of the reply.
        if (ReplyWithCode().Match(detail) is { Success: true } both && both.Groups[1].Value[0] == detail[0])
        {
            var code = Plain(both.Groups[1].Value);
            return new DeliveryFailure(FaultOf(code), code, detail);
        }

        // RFC 5321 section 4.2.3. 554 and the others say that it is refused, and not that it is because of the mailbox.
        return new DeliveryFailure(
            detail.Length < 3 ? Fault.Elsewhere : detail[..3] switch
            {
                "550" or "551" or "553" => Fault.Mailbox,
                "552" => Fault.Passing,
                _ => Fault.Elsewhere,
            },
            "5.0.0",
            detail);
    }

    /// <summary>One recipient's part of a report; null where the codes say that nothing has failed.</summary>
    /// <param name="status">The field Status, which RFC 3464 section 2.3.4 asks for; some leave it out.</param>
    /// <param name="diagnostic">The field Diagnostic-Code, where there is one.</param>
    public static DeliveryFailure? Of(string? status, string? diagnostic)
    {
        var detail = OneLine.Of(diagnostic ?? status ?? "", LongestDetail);
        var (code, said) = (CodeIn(status), CodeIn(diagnostic));
        // Some write 5.0.0 whatever it is, and leave the rest to what they quote.
        if (code is null || (said is not null && code == $"{said[0]}.0.0"))
            code = said ?? code;
        code ??= ReplyIn(diagnostic) ?? ReplyIn(status) ?? "4.0.0";
        return code[0] == '2' ? null : new DeliveryFailure(FaultOf(code), code, detail);
    }

    /// <summary>RFC 3463 section 3. Where a code says nothing certain, the address is spared.</summary>
    private static Fault FaultOf(string code) => code.Split('.') switch
    {
        // X.1.7 and X.1.8 are about the sender's address. X.5 to X.7: protocol, content, policy and security.
        [_, "1", "7" or "8"] or [_, "5" or "6" or "7", _] => Fault.Elsewhere,
        ["5", "1", _] or ["5", "2", "1"] => Fault.Mailbox,
        // Too long for it. The other server as a whole, and the network and routing before it.
        ["5", "2", "3"] or ["5", "3" or "4", _] => Fault.Elsewhere,
        // 5.2.2: full. 5.0.0: nothing but that it failed, which is also what is said of spam.
        _ => Fault.Passing,
    };

    private static string? CodeIn(string? text) => text is not null && StatusCode().Match(text) is { Success: true } found ? Plain(found.Value) : null;

    private static string Plain(string code) =>
        string.Join('.', code.Split('.').Select(part => int.Parse(part, NumberStyles.None, CultureInfo.InvariantCulture)));

    // "smtp; 550 No such user here": a reply of RFC 5321 without an enhanced code, and nothing that says to which command.
    private static string? ReplyIn(string? text) =>
        text is not null && ReplyCode().Match(text) is { Success: true } found ? $"{found.Value[0]}.0.0" : null;

    // [0-9], because \d is any digit of any script, which no number is read from.
    [GeneratedRegex(@"(?<![0-9.])[245]\.[0-9]{1,3}\.[0-9]{1,3}(?![0-9.]*[0-9])")]
    private static partial Regex StatusCode();

    [GeneratedRegex(@"(?<![0-9.])[45][0-9][0-9](?![0-9.]*[0-9])")]
    private static partial Regex ReplyCode();

    [GeneratedRegex(@"^[0-9]{3}[ -]([45]\.[0-9]{1,3}\.[0-9]{1,3})(?![0-9.]*[0-9])")]
    private static partial Regex ReplyWithCode();
}
