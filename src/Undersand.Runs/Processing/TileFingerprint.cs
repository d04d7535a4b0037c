using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;

namespace Undersand.Runs.Processing;

/// <summary>What a tile was made from, in one line: its inputs, the settings, engine and code, and the seabed under it.</summary>
internal static class TileFingerprint
{
    public static string Of(string common, IEnumerable<string> recordings, IEnumerable<double> surface)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes(common));
        foreach (string recording in recordings)
            hash.AppendData(Encoding.UTF8.GetBytes("\n" + recording));
        hash.AppendData(MemoryMarshal.AsBytes<double>(surface.ToArray()));
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
