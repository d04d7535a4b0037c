using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using NodaTime;
using Undersand.Storage;

namespace Undersand.Workbench.Network;

/// <summary>The workbench on the boat's network: by which names, with which certificate, for which devices.</summary>
public sealed class BoatNetwork : IDisposable
{
    private BoatNetwork(NetworkOptions options, string keep, IReadOnlyList<string> hosts)
    {
        (Port, Hosts) = (options.Port, hosts);
        Certificate = OwnCertificate.At(Path.Combine(keep, "certificate.pem"), hosts, SystemClock.Instance.GetCurrentInstant());
        Passes = new Passes(Path.Combine(keep, "devices.json"), SystemClock.Instance);
    }

    /// <summary>The port on every address of this machine.</summary>
    public int Port { get; internal set; }

    /// <summary>Names and addresses by which the workbench may be called; any other is refused.</summary>
    public IReadOnlyList<string> Hosts { get; }

    /// <summary>SHA-256 of the certificate, for people to compare: <c>AB:CD:…</c>.</summary>
    public string Fingerprint => string.Join(':', Convert.ToHexString(Certificate.GetCertHash(HashAlgorithmName.SHA256)).Chunk(2).Select(pair => new string(pair)));

    /// <summary>Codes on the server's screen.</summary>
    public PairingCodes Codes { get; } = new();

    /// <summary>Where to call it from another device.</summary>
    public IEnumerable<Uri> Addresses => Hosts.Where(h => h is not ("localhost" or "127.0.0.1")).Select(h => new UriBuilder("https", h, Port).Uri);

    internal X509Certificate2 Certificate { get; }

    internal Passes Passes { get; }

    /// <summary>Gets everything ready; nothing answers yet.</summary>
    /// <exception cref="SurveyException">There is no place to keep the certificate in, or it can't be written to or read.</exception>
    internal static BoatNetwork Prepare(NetworkOptions options)
    {
        string keep = options.Keep ?? Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "undersand");
        if (!Path.IsPathRooted(keep))
            throw new SurveyException("--network", null, "there is no home folder to keep certificate and devices in", "set the environment variable HOME or XDG_DATA_HOME");
        WholeFile.MakeFolder(keep);
        string name = Dns.GetHostName().ToLowerInvariant();
        return new BoatNetwork(options, keep, [.. options.Hosts.Select(h => h.ToLowerInvariant()).Concat(OwnAddresses()).Concat([name, name + ".local", "localhost", "127.0.0.1"]).Where(h => Uri.CheckHostName(h) is UriHostNameType.Dns or UriHostNameType.IPv4).Distinct()]);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Certificate.Dispose();
        Codes.Dispose();
    }

    private static IEnumerable<string> OwnAddresses() => NetworkInterface.GetAllNetworkInterfaces()
        .Where(i => i.OperationalStatus == OperationalStatus.Up && i.NetworkInterfaceType != NetworkInterfaceType.Loopback)
        .SelectMany(i => i.GetIPProperties().UnicastAddresses)
        .Where(a => a.Address.AddressFamily == AddressFamily.InterNetwork)
        .Select(a => a.Address.ToString());
}
