using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;

namespace Undersand.Runs.Processing;

/// <summary>What a tile was made from: a fingerprint for each line that may see it, of recording, settings, engine and code, and where the tile and the seabed under it lie.</summary>
/// <param name="Prints">By the line's index.</param>
internal sealed record TileMark(IReadOnlyDictionary<int, string> Prints)
{
    /// <summary>A fingerprint.</summary>
    /// <param name="common">What all tiles of the run have in common.</param>
    /// <param name="line">The line's recording, and what was made of it.</param>
    /// <param name="place">Where the tile lies, and the seabed under it.</param>
    public static string Print(string common, string line, IEnumerable<double> place)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes(common + "\n" + line));
        hash.AppendData(MemoryMarshal.AsBytes<double>(place.ToArray()));
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>From one line of text; of none where there is none, or another.</summary>
    public static TileMark Parse(string? text)
    {
        var prints = new Dictionary<int, string>();
        foreach (string[] part in (text ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(p => p.Split(':')))
            if (part.Length == 2 && int.TryParse(part[0], out int line))
                prints[line] = part[1];
        return new(prints);
    }

    /// <summary>The text that <see cref="Parse"/> reads.</summary>
    public override string ToString() => string.Join(' ', Prints.OrderBy(p => p.Key).Select(p => FormattableString.Invariant($"{p.Key}:{p.Value}")));
}
