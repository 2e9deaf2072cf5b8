using System.Globalization;
using System.Net.Security;
using System.Security.Authentication;
using System.Security.Cryptography.X509Certificates;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Fetching;

/// <summary>A server's certificate was not valid. The message is fit to be shown: it names the date or the name that is wrong.</summary>
internal sealed class UntrustedServerException(string sentence) : AuthenticationException(sentence)
{
    /// <summary>Takes what the platform found valid and nothing else; says of the rest what was wrong.</summary>
    /// <exception cref="UntrustedServerException">The certificate is not valid.</exception>
    public static bool Check(string host, X509Certificate? certificate, X509Chain? chain, SslPolicyErrors errors)
    {
        if (errors == SslPolicyErrors.None)
            return true;
        if (certificate is not X509Certificate2 shown || errors.HasFlag(SslPolicyErrors.RemoteCertificateNotAvailable))
            throw new UntrustedServerException("It shows no certificate.");
        var status = chain?.ChainStatus.Aggregate(X509ChainStatusFlags.NoError, (all, one) => all | one.Status) ?? X509ChainStatusFlags.NoError;
        if (status.HasFlag(X509ChainStatusFlags.NotTimeValid))
            throw new UntrustedServerException(string.Create(
                CultureInfo.InvariantCulture,
                $"Its certificate is valid from {shown.NotBefore.ToUniversalTime():yyyy-MM-dd} to {shown.NotAfter.ToUniversalTime():yyyy-MM-dd} only."));
        if (errors.HasFlag(SslPolicyErrors.RemoteCertificateNameMismatch))
            throw new UntrustedServerException(
                $"Its certificate is made out to \"{FailureDescription.Quoted(shown.GetNameInfo(X509NameType.DnsName, false))}\" and not to {host}.");
        throw new UntrustedServerException("Its certificate comes from nobody this system trusts.");
    }
}
