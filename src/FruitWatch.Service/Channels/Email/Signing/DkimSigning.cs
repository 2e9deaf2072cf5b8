using System.Security.Cryptography;
using MimeKit;
using MimeKit.Cryptography;
using NodaTime;

namespace FruitWatch.Service.Channels.Email.Signing;

/// <summary>
/// Signs mails with the key of a domain (RFC 6376), where the relay does not. Equal mails get equal signatures: the time in them is that
/// of the mail, and RSA with PKCS #1 v1.5 draws no numbers, so that a second attempt has the same bytes.
/// </summary>
internal sealed class DkimSigning
{
    /// <summary>1024 bits are still verified (RFC 8301 section 3.2), and no longer enough to sign with.</summary>
    private const int FewestBits = 2048;

    /// <summary>Those that say who, what and where to; and those that act, which RFC 8058 section 4 wants signed.</summary>
    private static readonly HeaderId[] s_ours =
    [
        HeaderId.From, HeaderId.To, HeaderId.Subject, HeaderId.Date, HeaderId.MessageId, HeaderId.MimeVersion, HeaderId.ContentType,
        HeaderId.ListUnsubscribe, HeaderId.ListUnsubscribePost, HeaderId.AutoSubmitted, HeaderId.References, HeaderId.InReplyTo,
    ];

    /// <summary>
    /// Each is named once more than it is there, so that nobody can add one (RFC 6376 sections 5.4.2 and 8.15): mail readers show the
    /// first or the last of two, and answer to a Reply-To that they find.
    /// </summary>
    private static readonly HeaderId[] s_signed = [.. s_ours, .. s_ours, HeaderId.Sender, HeaderId.ReplyTo, HeaderId.Cc];

    private readonly DkimOptions options;
    private readonly byte[]? pem;

    private DkimSigning(DkimOptions options, byte[]? pem, byte[]? publicKey)
    {
        (this.options, this.pem) = (options, pem);
        PublicKey = publicKey;
    }

    /// <summary>What the domain publishes: the public key in the form of RFC 6376 section 3.6.1; null where nothing is signed.</summary>
    public byte[]? PublicKey { get; }

    /// <summary>Reads the key.</summary>
    /// <exception cref="MailException">There is none, or none that signs.</exception>
    public static DkimSigning Read(DkimOptions options)
    {
        if (!options.Wanted)
            return new DkimSigning(options, null, null);
        const string setting = $"{MailOptions.Section}:Dkim:KeyFile";
        byte[] pem;
        try
        {
            pem = File.ReadAllBytes(options.KeyFile!.Trim());
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new MailException($"{setting} names a file that cannot be read ({unreadable.GetType().Name}). Name the PEM file of the private key, readable by the service.", unreadable);
        }

        using var key = RSA.Create();
        try
        {
            key.ImportFromPem(System.Text.Encoding.ASCII.GetString(pem));
            key.ExportRSAPrivateKey();
        }
        catch (Exception wrong) when (wrong is ArgumentException or CryptographicException)
        {
            throw new MailException($"{setting} holds no private RSA key in PEM without a password. Make one with: openssl genrsa -out dkim.pem 2048", wrong);
        }

        if (key.KeySize < FewestBits)
            throw new MailException($"{setting} holds a key of {key.KeySize} bits. Make one of 2048 with: openssl genrsa -out dkim.pem 2048");
        return new DkimSigning(options, pem, key.ExportSubjectPublicKeyInfo());
    }

    /// <summary>Signs it, where that is wanted. Nothing of it may be changed afterwards.</summary>
    public void Sign(MimeMessage message, Instant at)
    {
        if (pem is null)
            return;
        using var key = new MemoryStream(pem, writable: false);
        var signer = new Signer(key, options.Domain!.Trim(), options.Selector!.Trim(), at)
        {
            HeaderCanonicalizationAlgorithm = DkimCanonicalizationAlgorithm.Relaxed,
            BodyCanonicalizationAlgorithm = DkimCanonicalizationAlgorithm.Relaxed,
        };
        signer.Sign(message, s_signed);
    }

    private sealed class Signer(Stream key, string domain, string selector, Instant at)
        : DkimSigner(key, domain, selector, DkimSignatureAlgorithm.RsaSha256)
    {
        protected override long GetTimestamp() => at.ToUnixTimeSeconds();
    }
}
