using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text;
using NodaTime;
using Undersand.Storage;

namespace Undersand.Workbench.Network;

/// <summary>A certificate of this machine's own making (X.509, ECDSA over P-256), kept with its key in a file that only the user may read.</summary>
/// <remarks>No authority vouches for it: people compare its fingerprint with the server's screen, once for each device.</remarks>
internal static class OwnCertificate
{
    // Browsers refuse longer ones: CA/Browser Forum, Baseline Requirements 6.3.2, 398 days.
    private static readonly Duration s_lasts = Duration.FromDays(397), s_renewed = Duration.FromDays(30);

    /// <summary>The certificate kept in a file; made anew where it is missing, nearly over, or lacks a name.</summary>
    /// <exception cref="SurveyException">The file can't be written to, or is no certificate.</exception>
    public static X509Certificate2 At(string path, IReadOnlyList<string> hosts, Instant now)
    {
        if (File.Exists(path) && Load(path) is { } kept)
        {
            if (Instant.FromDateTimeUtc(kept.NotAfter.ToUniversalTime()) - now > s_renewed && hosts.All(h => kept.MatchesHostname(h)))
                return kept;
            kept.Dispose();
        }
        WholeFile.WriteThrough(path, unfinished =>
        {
            File.Delete(unfinished);
            var onlyMine = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
            if (!OperatingSystem.IsWindows())
                onlyMine.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            using var file = new FileStream(unfinished, onlyMine);
            file.Write(Encoding.ASCII.GetBytes(Make(hosts, now)));
        });
        return Load(path);
    }

    private static X509Certificate2 Load(string path)
    {
        try
        {
            string pem = File.ReadAllText(path);
            using var fromPem = X509Certificate2.CreateFromPem(pem, pem);
            // TLS on Windows takes no key that lives in memory only.
            return X509CertificateLoader.LoadPkcs12(fromPem.Export(X509ContentType.Pkcs12), null);
        }
        catch (CryptographicException e)
        {
            throw new SurveyException(path, null, $"this is no certificate with its key ({e.Message.TrimEnd('.')})", "move the file away, and a new one is made", e);
        }
    }

    private static string Make(IReadOnlyList<string> hosts, Instant now)
    {
        using ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=Undersand workbench", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        foreach (string host in hosts)
            if (IPAddress.TryParse(host, out IPAddress? address))
                names.AddIpAddress(address);
            else
                names.AddDnsName(host);
        request.CertificateExtensions.Add(names.Build());
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1")], false));
        using X509Certificate2 made = request.CreateSelfSigned((now - Duration.FromDays(1)).ToDateTimeOffset(), (now + s_lasts - Duration.FromDays(1)).ToDateTimeOffset());
        return made.ExportCertificatePem() + "\n" + key.ExportPkcs8PrivateKeyPem() + "\n";
    }
}
