using System.Net.Sockets;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Store.Entities;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using MimeKit;

namespace FruitWatch.Service.Channels.Email;

/// <summary>Sends through a relay, over one connection for as long as it holds.</summary>
internal sealed class SmtpRoute(MailOptions options, ReturnPaths returns) : IMailRoute
{
    private SmtpClient? client;

    public async Task<Delivery> DeliverAsync(OutgoingMail mail, MimeMessage message, CancellationToken limit)
    {
        var reused = client is not null;
        var delivery = await AttemptAsync(mail, message, limit);

        // A relay may end a connection after some mails or some quiet, which says nothing about this one.
        return reused && client is null && delivery.Outcome == Outcome.Later && !limit.IsCancellationRequested
            ? await AttemptAsync(mail, message, limit)
            : delivery;
    }

    public async ValueTask DisposeAsync()
    {
        if (client is null)
            return;
        try
        {
            using var limit = new CancellationTokenSource(options.Timeout);
            await client.DisconnectAsync(quit: true, limit.Token);
        }
        catch (Exception unheard) when (IsBroken(unheard) || unheard is SmtpCommandException)
        {
            // Every mail has its answer already; a relay that does not hear QUIT changes none of them.
        }
        finally
        {
            HangUp();
        }
    }

    private async Task<Delivery> AttemptAsync(OutgoingMail mail, MimeMessage message, CancellationToken limit)
    {
        try
        {
            client ??= await SmtpConnection.OpenAsync(options, limit);
        }
        catch (Exception closed) when (IsBroken(closed) || closed is SmtpCommandException or AuthenticationException or NotSupportedException)
        {
            return new Delivery(Outcome.RouteClosed, OneLine.Of($"{closed.GetType().Name}: {closed.Message}", 300), CodeOf(closed));
        }

        var content = new ContentWatch();
        try
        {
            await client.SendAsync(FormatOptions.Default, message, returns.Of(mail), message.To.Mailboxes, limit, content);
            return new Delivery(Outcome.Sent);
        }
        catch (SmtpCommandException answer)
        {
            if (answer.StatusCode == SmtpStatusCode.ServiceNotAvailable || !client.IsConnected)
                HangUp();
            var outcome = Sort(answer);
            var said = OneLine.Of($"{(int)answer.StatusCode} {answer.Message}", 300);
            return new Delivery(outcome, said, (int)answer.StatusCode)
            {
                OfRecipient = outcome == Outcome.Refused && answer.ErrorCode == SmtpErrorCode.RecipientNotAccepted,
            };
        }
        catch (NotSupportedException cannot)
        {
            // An address beyond ASCII, and a relay without SMTPUTF8 (RFC 6531).
            return new Delivery(Outcome.Refused, OneLine.Of(cannot.Message, 300));
        }
        catch (Exception broken) when (IsBroken(broken))
        {
            HangUp();
            return new Delivery(content.Begun ? Outcome.Unconfirmed : Outcome.Later, OneLine.Of($"{broken.GetType().Name}: {broken.Message}", 300));
        }
    }

    // RFC 5321 section 4.2.1: 4yz may be tried again, 5yz may not. But a relay that refuses our own address, or wants us to sign in,
    // says nothing about the recipient: that is for the operator to mend, and the mail waits. 552 is a message that is too large.
    private static Outcome Sort(SmtpCommandException answer) => (int)answer.StatusCode switch
    {
        < 500 => Outcome.Later,
        530 or 534 or 535 or 538 => Outcome.Later,
        not 552 when answer.ErrorCode == SmtpErrorCode.SenderNotAccepted => Outcome.Later,
        _ => Outcome.Refused,
    };

    private void HangUp()
    {
        client?.Dispose();
        client = null;
    }

    private static int? CodeOf(Exception error) => error is SmtpCommandException answer ? (int)answer.StatusCode : null;

    internal static bool IsBroken(Exception error) => error
        is SmtpProtocolException or IOException or SocketException or ServiceNotConnectedException or ServiceNotAuthenticatedException
        or SslHandshakeException or TimeoutException or OperationCanceledException or ObjectDisposedException;

    /// <summary>Notes whether the message's content has begun to leave. Until then the relay cannot have taken it.</summary>
    private sealed class ContentWatch : ITransferProgress
    {
        public bool Begun { get; private set; }

        public void Report(long bytesTransferred, long totalSize) => Begun = true;

        public void Report(long bytesTransferred) => Begun = true;
    }
}
