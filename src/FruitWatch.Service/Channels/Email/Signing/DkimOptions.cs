namespace FruitWatch.Service.Channels.Email.Signing;

/// <summary>With what the service signs its mails. Section <c>Mail:Dkim</c>.</summary>
internal sealed class DkimOptions
{
    private const string Section = $"{MailOptions.Section}:Dkim";

    /// <summary>The domain that answers for the mails, such as that of <see cref="MailOptions.FromAddress"/>.</summary>
    public string? Domain { get; set; }

    /// <summary>Name of the key in the domain's DNS.</summary>
    public string? Selector { get; set; }

    /// <summary>File of the private RSA key, in PEM.</summary>
    public string? KeyFile { get; set; }

    /// <summary>Whether mails are signed here.</summary>
    public bool Wanted => !string.IsNullOrWhiteSpace(Domain) || !string.IsNullOrWhiteSpace(Selector) || !string.IsNullOrWhiteSpace(KeyFile);

    /// <exception cref="MailException">A setting is missing, or no name.</exception>
    public void Check()
    {
        if (!Wanted)
            return;
        if (string.IsNullOrWhiteSpace(Domain) || string.IsNullOrWhiteSpace(Selector) || string.IsNullOrWhiteSpace(KeyFile))
            throw new MailException($"{Section}:Domain, {Section}:Selector and {Section}:KeyFile go together. Give all three, or none.");
        if (Uri.CheckHostName(Domain.Trim()) != UriHostNameType.Dns)
            throw new MailException($"{Section}:Domain is \"{Domain}\". Write a domain, such as example.org.");
        if (Selector.Trim().Any(letter => !char.IsAsciiLetterOrDigit(letter) && letter is not ('-' or '.' or '_')))
            throw new MailException($"{Section}:Selector is \"{Selector}\". Write letters, digits, hyphens and dots, such as fruitwatch2026.");
    }
}
