using FruitWatch.Service.Channels.Email.Signing;

namespace FruitWatch.Service.Channels.Email.Checking;

/// <summary>
/// What the domain should publish so that others believe its mails. Worked out from the settings; nothing is looked up, because what one
/// resolver sees today says little about what others see.
/// </summary>
internal static class DnsRecords
{
    /// <summary>A text record is made of strings of 255 letters at most (RFC 1035 section 3.3.14).</summary>
    private const int LongestString = 255;

    public static async Task WriteAsync(MailOptions options, DkimSigning signing, Uri baseUrl, TextWriter output)
    {
        var from = DomainOf(options.FromAddress);
        await output.WriteLineAsync("DNS records to publish (worked out, not looked up)");
        foreach (var (name, value, why) in Of(options, signing, from, baseUrl.IdnHost))
        {
            await output.WriteLineAsync($"  {name}. TXT {Strings(value)}");
            await output.WriteLineAsync($"      {why}");
        }

        if (!options.Dkim.Wanted)
            await output.WriteLineAsync($"  The relay has to sign for {from}, or set Mail:Dkim here.");
        else if (!IsAligned(options.Dkim.Domain!.Trim(), from))
            await output.WriteLineAsync($"  Mail:Dkim:Domain is {options.Dkim.Domain!.Trim()}, the mails come from {from}: the signature does not speak for them (RFC 7489 section 3.1).");
    }

    /// <summary>Name, value, and what it is for.</summary>
    public static IEnumerable<(string Name, string Value, string Why)> Of(
        MailOptions options, DkimSigning signing, string from, string own)
    {
        var relay = options.Host?.Trim();
        var spf = string.IsNullOrEmpty(relay) ? "v=spf1 ~all"
            : MailOptions.IsThisMachine(relay) ? $"v=spf1 a:{own} ~all" // the relay here is seen by the address of this machine
            : System.Net.IPAddress.TryParse(relay, out var address) ? $"v=spf1 {(address.AddressFamily == System.Net.Sockets.AddressFamily.InterNetworkV6 ? "ip6" : "ip4")}:{address} ~all"
            : $"v=spf1 a:{relay} ~all";
        const string whySpf = "SPF: who may send. If the relay sends from other machines than it is reached at, take what its provider names (include:…).";
        yield return (from, spf, whySpf);
        if (options.Bounces.Wanted && DomainOf(options.Bounces.Address!) is var back && !back.Equals(from, StringComparison.OrdinalIgnoreCase))
            yield return (back, spf, "SPF is asked for the domain of the envelope sender, which is that of Mail:Bounces:Address.");
        if (signing.PublicKey is { } key)
            yield return ($"{options.Dkim.Selector!.Trim()}._domainkey.{options.Dkim.Domain!.Trim()}", $"v=DKIM1; k=rsa; p={Convert.ToBase64String(key)}", "DKIM: the public half of Mail:Dkim:KeyFile.");
        yield return ($"_dmarc.{from}", $"v=DMARC1; p=none; rua=mailto:postmaster@{from}", "DMARC: begin with none, read the reports, then go on to quarantine.");
    }

    private static bool IsAligned(string signer, string from) =>
        from.Equals(signer, StringComparison.OrdinalIgnoreCase)
        || from.EndsWith("." + signer, StringComparison.OrdinalIgnoreCase) || signer.EndsWith("." + from, StringComparison.OrdinalIgnoreCase);

    private static string Strings(string value) =>
        string.Join(' ', Enumerable.Range(0, (value.Length + LongestString - 1) / LongestString)
            .Select(i => $"\"{value.Substring(i * LongestString, Math.Min(LongestString, value.Length - (i * LongestString)))}\""));

    private static string DomainOf(string address) => address.Trim()[(address.Trim().LastIndexOf('@') + 1)..].ToLowerInvariant();
}
