using System.Security.Cryptography.X509Certificates;
using NodaTime;
using Undersand.Runs.Tests.Support;
using Undersand.Workbench.Network;

namespace Undersand.Workbench.Tests.Network;

public sealed class OwnCertificateTests : IDisposable
{
    private static readonly Instant s_now = Instant.FromUtc(2026, 5, 4, 12, 0);
    private readonly TestFolder _folder = new();

    private string File => _folder["certificate.pem"];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void OpenSsl_finds_the_names_the_use_and_at_most_398_days()
    {
        using X509Certificate2 made = OwnCertificate.At(File, ["survey-desk", "192.168.1.20", "localhost"], s_now);
        string text = OutsideReader.RunTool("openssl", "openssl", "x509", "-in", File, "-noout", "-text");
        Assert.Contains("DNS:survey-desk, IP Address:192.168.1.20, DNS:localhost", text);
        Assert.Contains("TLS Web Server Authentication", text);
        Assert.Contains("NIST CURVE: P-256", text);
        // CA/Browser Forum, Baseline Requirements for TLS server certificates, 6.3.2.
        Assert.True(made.NotAfter - made.NotBefore <= TimeSpan.FromDays(398));
    }

    [Fact]
    public void It_is_kept_until_it_is_nearly_over_or_lacks_a_name()
    {
        string[] hosts = ["survey-desk", "192.168.1.20"];
        string first = Hash(hosts, s_now);
        Assert.Equal(first, Hash(hosts, s_now + Duration.FromDays(300)));
        Assert.NotEqual(first, Hash([.. hosts, "192.168.1.21"], s_now));
        string second = Hash(hosts, s_now);
        Assert.NotEqual(second, Hash(hosts, s_now + Duration.FromDays(370)));
    }

    [Fact]
    public void Only_the_user_may_read_the_key()
    {
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("files have no such modes on Windows");
            return;
        }
        OwnCertificate.At(File, ["survey-desk"], s_now).Dispose();
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, System.IO.File.GetUnixFileMode(File));
    }

    [Fact]
    public void A_damaged_file_is_named()
    {
        System.IO.File.WriteAllText(File, "no certificate");
        Assert.Contains("certificate.pem", Assert.Throws<SurveyException>(() => OwnCertificate.At(File, ["survey-desk"], s_now)).Message);
    }

    private string Hash(string[] hosts, Instant now)
    {
        using X509Certificate2 certificate = OwnCertificate.At(File, hosts, now);
        return certificate.Thumbprint;
    }
}
