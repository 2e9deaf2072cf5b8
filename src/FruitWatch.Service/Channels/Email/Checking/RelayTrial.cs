using FruitWatch.Service.Channels.Email.Signing;
using FruitWatch.Service.Operating;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Checking;

/// <summary>Goes through a conversation with the relay, step by step, and says what came of each.</summary>
internal sealed class RelayTrial(MailOptions options, DkimSigning signing, ServiceOptions service, TimeProvider time)
{
    /// <summary>Connects, signs in where that is set, and sends a mail where somebody is to get one.</summary>
    /// <exception cref="VerbException">A step failed; the ones before it have been told.</exception>
    public async Task RunAsync(string? to, TextWriter output, CancellationToken stop)
    {
        await output.WriteLineAsync("The relay");
        using var client = await StepAsync("connecting", () => SmtpConnection.GreetAsync(options, stop));
        await output.WriteLineAsync(client.IsSecure
            ? $"  connected       encrypted with {client.SslProtocol}, certificate good for {options.Host!.Trim()}"
            : "  connected       without encryption");
        await output.WriteLineAsync($"  EHLO            {client.Capabilities}");
        if (client.Capabilities.HasFlag(SmtpCapabilities.Size) && client.MaxSize > 0)
            await output.WriteLineAsync(FormattableString.Invariant($"  largest mail    {client.MaxSize / 1024} kB"));
        if (!string.IsNullOrEmpty(options.UserName))
        {
            await StepAsync("signing in", async () =>
            {
                await client.AuthenticateAsync(options.UserName, options.Password!, stop);
                return client;
            });
            await output.WriteLineAsync($"  signed in       as {options.UserName}");
        }
        else if (client.Capabilities.HasFlag(SmtpCapabilities.Authentication))
        {
            await output.WriteLineAsync("  not signed in   though the relay offers it; it may refuse mail to others");
        }

        if (to is not null)
        {
            using var message = Letter(to);
            // Not the address of bounces: what comes back of this one is for whoever tries, and the service would know nothing of it.
            var said = await StepAsync("sending", () => client.SendAsync(
                FormatOptions.Default, message, new MailboxAddress("", options.FromAddress.Trim()), message.To.Mailboxes, stop));
            await output.WriteLineAsync($"  sent            to {to}; the relay said: {OneLine.Of(said, 200)}");
        }

        try
        {
            await client.DisconnectAsync(quit: true, stop);
        }
        catch (Exception unheard) when (SmtpRoute.IsBroken(unheard))
        {
            // Nothing hangs on it.
        }
    }

    private static async Task<T> StepAsync<T>(string what, Func<Task<T>> step)
    {
        try
        {
            return await step();
        }
        catch (Exception failed) when (SmtpRoute.IsBroken(failed) || failed is CommandException or ProtocolException or AuthenticationException or NotSupportedException)
        {
            throw new VerbException($"Failed while {what}: {OneLine.Of($"{failed.GetType().Name}: {failed.Message}", 500)}");
        }
    }

    private MimeMessage Letter(string to)
    {
        var now = time.GetUtcNow();
        var message = new MimeMessage { Date = now };
        message.From.Add(new MailboxAddress(OneLine.Of(options.FromName, 100), options.FromAddress.Trim()));
        message.To.Add(new MailboxAddress("", to));
        message.Subject = "A mail to try the relay";
        message.MessageId = $"check.{Guid.NewGuid():N}@{service.MessageDomain}";
        message.Headers.Add("Auto-Submitted", "auto-generated");
        message.Headers.Add("X-Auto-Response-Suppress", "All");
        message.Body = new TextPart("plain")
        {
            Text = $"This mail was sent by \"mail check\" for {service.BaseUrl}. If you can read it, mails leave.\nLook at its header: SPF, DKIM and DMARC should say pass.\n",
        };
        message.Prepare(EncodingConstraint.SevenBit);
        signing.Sign(message, Instant.FromDateTimeOffset(now));
        return message;
    }
}
