using System.Net;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Channels.Email.Signing;
using MimeKit;

namespace FruitWatch.Service.Channels.Email;

/// <summary>How mails leave. Bound from the configuration section <c>Mail</c>; see docs/mail.md.</summary>
internal sealed class MailOptions
{
    public const string Section = "Mail";

    /// <summary>The relay's name or address. Empty: mails are written as files instead.</summary>
    public string? Host { get; set; }

    /// <summary>The relay's port; 0 for the usual one of <see cref="Security"/>: 25, 587 or 465.</summary>
    public int Port { get; set; }

    /// <summary><c>none</c>, <c>starttls</c> or <c>tls</c>. Never falls back to less than is asked for.</summary>
    public string Security { get; set; } = "starttls";

    /// <summary>Name to sign in with; empty for a relay that asks for none.</summary>
    public string? UserName { get; set; }

    /// <summary>Password to sign in with. Give it in the environment, as <c>Mail__Password</c>.</summary>
    public string? Password { get; set; }

    /// <summary>Address in the From field, and the one to which the relay reports what it could not deliver.</summary>
    public string FromAddress { get; set; } = "fruitwatch@localhost";

    /// <summary>Name in the From field.</summary>
    public string FromName { get; set; } = "FruitWatch";

    /// <summary>At most so many mails in any hour, as a fuse; the rest waits.</summary>
    public int PerHour { get; set; } = 2000;

    /// <summary>At most so many mails in any minute, spread evenly over one connection; 0 for as fast as the relay takes them.</summary>
    public int PerMinute { get; set; }

    /// <summary>How the service signs its mails; without it the relay does, or nobody.</summary>
    public DkimOptions Dkim { get; set; } = new();

    /// <summary>Where reports of undeliverable mail come to, and mails that unsubscribe; without it they go to <see cref="FromAddress"/> and nobody counts them.</summary>
    public BounceOptions Bounces { get; set; } = new();

    /// <summary>How long a sender holds the mails that it has claimed, so that one that died gives them back. For trials; longer than any attempt.</summary>
    public TimeSpan Lease { get; set; } = TimeSpan.FromMinutes(5);

    /// <summary>How long the relay may take to answer.</summary>
    public TimeSpan Timeout { get; set; } = TimeSpan.FromSeconds(20);

    /// <summary>
    /// A relay that takes up a connection within this is on this machine or in the same network. Not a setting: for tests, which have no
    /// far relay.
    /// </summary>
    internal TimeSpan Near { get; set; } = TimeSpan.FromMilliseconds(10);

    public bool HasRelay => !string.IsNullOrWhiteSpace(Host);

    /// <summary>Reads the section and refuses what cannot work, before the first mail is due.</summary>
    /// <exception cref="MailException">A setting is wrong; names it and says what to write.</exception>
    public static MailOptions Read(IConfiguration configuration)
    {
        try
        {
            var options = configuration.GetSection(Section).Get<MailOptions>() ?? new MailOptions();
            options.Check();
            return options;
        }
        catch (InvalidOperationException unreadable)
        {
            throw new MailException($"{unreadable.Message} Write a number, or leave the setting out.", unreadable);
        }
    }

    private void Check()
    {
        if (!IsOneAddress(FromAddress))
            throw new MailException($"{Section}:FromAddress is \"{FromAddress}\". Write one address, such as beds@example.org.");
        if (PerHour < 1)
            throw new MailException($"{Section}:PerHour is {PerHour}. Write how many mails may leave in an hour, at least 1.");
        if (PerMinute < 0)
            throw new MailException($"{Section}:PerMinute is {PerMinute}. Write how many mails may leave in a minute, or 0 for no such limit.");
        if (Lease < TimeSpan.FromSeconds(1))
            throw new MailException($"{Section}:Lease is {Lease}. Write how long a claim holds, such as 00:05:00.");
        Dkim.Check();
        Bounces.Check();
        if (Timeout <= TimeSpan.Zero)
            throw new MailException($"{Section}:Timeout is {Timeout}. Write how long the relay may take, such as 00:00:20.");
        if (!HasRelay)
            return;
        if (Port is < 0 or > 65535)
            throw new MailException($"{Section}:Port is {Port}. Write 1 to 65535, or leave it out for the usual port.");
        if (!IsSecurity(Security))
            throw new MailException($"{Section}:Security is \"{Security}\". Write none, starttls or tls.");
        if (string.IsNullOrEmpty(UserName) != string.IsNullOrEmpty(Password))
            throw new MailException($"{Section}:UserName and {Section}:Password go together. Give both, or neither.");
        if (!string.IsNullOrEmpty(UserName) && Security.Trim().Equals("none", StringComparison.OrdinalIgnoreCase) && !IsThisMachine(Host!))
            throw new MailException($"{Section}:Security is none, so the password would cross the network in the clear. Write starttls or tls.");
    }

    /// <summary>Whether a text is one plain address: no name, no list, no line break.</summary>
    public static bool IsOneAddress(string text) =>
        MailboxAddress.TryParse(text, out var parsed) && parsed.Address == text.Trim() && text.Contains('@', StringComparison.Ordinal);

    /// <summary>Whether a text is one of the three ways of encrypting.</summary>
    internal static bool IsSecurity(string text) => text.Trim().ToLowerInvariant() is "none" or "starttls" or "tls";

    /// <summary>Whether nothing that is sent to a host leaves this machine.</summary>
    internal static bool IsThisMachine(string host) =>
        host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host, out var address) && IPAddress.IsLoopback(address));
}
