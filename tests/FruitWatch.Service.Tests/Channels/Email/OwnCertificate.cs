using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace FruitWatch.Service.Tests.Channels.Email;

/// <summary>A certificate that a server made for itself.</summary>
internal static class OwnCertificate
{
    public static X509Certificate2 Make()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest("CN=relay.invalid", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        var from = new DateTimeOffset(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);
        using var made = request.CreateSelfSigned(from, from.AddYears(30));
        return X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pfx), null);
    }
}
