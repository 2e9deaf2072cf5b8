using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using FruitWatch.Service.Operating;
using Microsoft.AspNetCore.DataProtection;

namespace FruitWatch.Service.SignIn;

/// <summary>Encrypts the service's keys in the store, where the operator has a certificate for it.</summary>
internal static class KeyCertificate
{
    public static void AddKeyCertificate(this IServiceCollection services, ServiceOptions options)
    {
        if (string.IsNullOrWhiteSpace(options.KeyCertificate))
            return;
        X509Certificate2 certificate;
        try
        {
            certificate = X509CertificateLoader.LoadPkcs12FromFile(options.KeyCertificate, options.KeyCertificatePassword);
        }
        catch (Exception unusable) when (unusable is CryptographicException or IOException or UnauthorizedAccessException)
        {
            throw new VerbException(
                $"{ServiceOptions.Section}:KeyCertificate: {options.KeyCertificate} cannot be read: {unusable.Message} Name a PKCS #12 file (.pfx) and give its password in FruitWatch__KeyCertificatePassword.");
        }

        if (!certificate.HasPrivateKey)
            throw new VerbException($"{ServiceOptions.Section}:KeyCertificate: {options.KeyCertificate} holds no private key. Export it with its key.");
        services.AddDataProtection().ProtectKeysWithCertificate(certificate);
    }

    /// <summary>A database on another machine is read by more people than the data folder is.</summary>
    public static void Warn(ServiceOptions options, bool onServer, ILogger log)
    {
        if (onServer && string.IsNullOrWhiteSpace(options.KeyCertificate))
        {
            log.LogWarning(
                "The service's keys lie in the database as they are: whoever can read it, or a copy of it, can sign in as anybody. "
                + "Name a certificate in FruitWatch:KeyCertificate to encrypt them; docs/operating.md tells how");
        }
    }
}
