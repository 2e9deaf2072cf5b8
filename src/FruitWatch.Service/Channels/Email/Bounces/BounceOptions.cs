using System.Net.Mail;

namespace FruitWatch.Service.Channels.Email.Bounces;

/// <summary>Where reports of undeliverable mail come to, and mails that unsubscribe, and how they are read. Section <c>Mail:Bounces</c>.</summary>
internal sealed class BounceOptions
{
    private const string Section = $"{MailOptions.Section}:Bounces";

    /// <summary>RFC 5321 section 4.5.3.1.1 lets 64 letters stand before the @; a token of <see cref="SignedAddress"/> takes up to 39, and a plus sign.</summary>
    private const int LongestLocal = 24;

    private const int ShortestSecret = 20;

    /// <summary>
    /// Such as <c>bounces@example.org</c>. Each mail then leaves with an envelope sender of its own, <c>bounces+token@example.org</c>, so that
    /// a report says which mail it is about; all of those have to come to one mailbox.
    /// </summary>
    public string? Address { get; set; }

    /// <summary>Server of that mailbox; empty where reports are handed over to <c>/mail/bounces</c> instead.</summary>
    public string? Host { get; set; }

    /// <summary>Its port; 0 for the usual one.</summary>
    public int Port { get; set; }

    /// <summary><c>pop3</c> or <c>imap</c>.</summary>
    public string Protocol { get; set; } = "imap";

    /// <summary><c>none</c>, <c>starttls</c> or <c>tls</c>.</summary>
    public string Security { get; set; } = "tls";

    /// <summary>Name of the mailbox.</summary>
    public string? UserName { get; set; }

    /// <summary>Its password. Give it in the environment, as <c>Mail__Bounces__Password</c>.</summary>
    public string? Password { get; set; }

    /// <summary>What a mail server shows that hands reports over to <c>/mail/bounces</c>; empty where none does. Give it in the environment.</summary>
    public string? HookSecret { get; set; }

    /// <summary>Whether mails can be told apart by their envelope senders.</summary>
    public bool Wanted => !string.IsNullOrWhiteSpace(Address);

    /// <summary>Whether there is a mailbox to read.</summary>
    public bool HasMailbox => Wanted && !string.IsNullOrWhiteSpace(Host);

    /// <summary>Whether reports may be handed over.</summary>
    public bool HasHook => Wanted && !string.IsNullOrEmpty(HookSecret);

    /// <summary>Whether what comes to the address gets here at all.</summary>
    public bool IsRead => HasMailbox || HasHook;

    public bool IsPop3 => Protocol.Trim().Equals("pop3", StringComparison.OrdinalIgnoreCase);

    /// <exception cref="MailException">A setting cannot work.</exception>
    public void Check()
    {
        if (!Wanted)
        {
            if (!string.IsNullOrWhiteSpace(Host) || !string.IsNullOrEmpty(HookSecret))
                throw new MailException($"{Section}:Address is missing. Write where reports are to come to, such as bounces@example.org.");
            return;
        }

        if (!MailOptions.IsOneAddress(Address!) || !MailAddress.TryCreate(Address!.Trim(), out var address) || !address.User.All(IsPlain) || address.User.Length > LongestLocal)
            throw new MailException($"{Section}:Address is \"{Address}\". Write one address with at most {LongestLocal} letters, digits, dots and hyphens before the @, such as bounces@example.org.");
        if (!string.IsNullOrEmpty(HookSecret) && HookSecret.Length < ShortestSecret)
            throw new MailException($"{Section}:HookSecret is shorter than {ShortestSecret} letters. Draw a long one, with: openssl rand -hex 32");
        if (!HasMailbox)
            return;
        if (Protocol.Trim().ToLowerInvariant() is not ("pop3" or "imap"))
            throw new MailException($"{Section}:Protocol is \"{Protocol}\". Write pop3 or imap.");
        if (Port is < 0 or > 65535)
            throw new MailException($"{Section}:Port is {Port}. Write 1 to 65535, or leave it out for the usual port.");
        if (!MailOptions.IsSecurity(Security))
            throw new MailException($"{Section}:Security is \"{Security}\". Write none, starttls or tls.");
        if (string.IsNullOrEmpty(UserName) || string.IsNullOrEmpty(Password))
            throw new MailException($"{Section}:UserName and {Section}:Password are needed to read the mailbox.");
        if (Security.Trim().Equals("none", StringComparison.OrdinalIgnoreCase) && !MailOptions.IsThisMachine(Host!))
            throw new MailException($"{Section}:Security is none, so the password would cross the network in the clear. Write starttls or tls.");
    }

    private static bool IsPlain(char letter) => char.IsAsciiLetterOrDigit(letter) || letter is '.' or '-' or '_';
}
