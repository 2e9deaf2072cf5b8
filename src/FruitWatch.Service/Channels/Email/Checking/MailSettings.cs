using System.Globalization;
using FruitWatch.Service.Operating;

namespace FruitWatch.Service.Channels.Email.Checking;

/// <summary>The settings in words, without passwords and secrets.</summary>
internal static class MailSettings
{
    public static async Task WriteAsync(MailOptions options, ServiceOptions service, TextWriter output)
    {
        await output.WriteLineAsync("Settings");
        await LineAsync(output, "from", $"{OneLine.Of(options.FromName, 80)} <{options.FromAddress.Trim()}>");
        await LineAsync(output, "links lead to", service.BaseUrl.AbsoluteUri);
        if (!options.HasRelay)
        {
            await LineAsync(output, "relay", $"none: mails are written to {service.MailFolder}");
            return;
        }

        await LineAsync(output, "relay", string.Create(CultureInfo.InvariantCulture, $"{options.Host!.Trim()}, port {SmtpConnection.PortFor(options)}, {options.Security.Trim().ToLowerInvariant()}"));
        await LineAsync(output, "signs in as", string.IsNullOrEmpty(options.UserName) ? "nobody" : $"{options.UserName}, with a password");
        await LineAsync(output, "at most", string.Create(
            CultureInfo.InvariantCulture, $"{options.PerHour} an hour{(options.PerMinute > 0 ? string.Create(CultureInfo.InvariantCulture, $", {options.PerMinute} a minute") : "")}"));
        await LineAsync(output, "signed here", options.Dkim.Wanted ? $"yes, for {options.Dkim.Domain!.Trim()} with the key {options.Dkim.Selector!.Trim()}" : "no");
        var bounces = options.Bounces;
        await LineAsync(output, "bounces to", bounces.Wanted ? bounces.Address!.Trim() : $"{options.FromAddress.Trim()}, where nobody counts them");
        if (bounces.HasMailbox)
            await LineAsync(output, "read from", $"{bounces.Host!.Trim()}, {bounces.Protocol.Trim().ToLowerInvariant()}, {bounces.Security.Trim().ToLowerInvariant()}, as {bounces.UserName}");
        if (bounces.HasHook)
            await LineAsync(output, "handed over at", service.BaseUrl.AbsoluteUri.TrimEnd('/') + Bounces.BounceHook.Address);
        await LineAsync(output, "unsubscribing", bounces.IsRead ? $"by link, and by a mail to {Bounces.SignedAddress.BeginningOf(bounces.Address!)}…" : "by link");
    }

    private static Task LineAsync(TextWriter output, string what, string value) => output.WriteLineAsync($"  {what,-15}{value}");
}
