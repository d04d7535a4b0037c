using System.Globalization;

namespace Undersand.Runs.Processing;

/// <summary>What a tile was made from under one line.</summary>
/// <param name="Recording">Fingerprint of recording, settings, engine and code, and of where the tile lies.</param>
/// <param name="Seabed">Fingerprint of the seabed that it was imaged under.</param>
/// <param name="Depths">That seabed in places of the tile, so that one can tell how far another lies from it: tenths of a millimetre below the water's surface.</param>
internal readonly record struct LineMark(string Recording, string Seabed, string Depths)
{
    private const double Unit = 1e-4;

    /// <summary>From depths in metres.</summary>
    public static LineMark Of(string recording, string seabed, IEnumerable<float> depths) => new(recording, seabed, string.Join(',', depths.Select(d => (d / Unit).ToString("0", CultureInfo.InvariantCulture))));

    /// <summary>How far its seabed lies from another's at most, metres.</summary>
    public double FarFrom(LineMark other)
    {
        int[] here = InUnits(Depths), there = InUnits(other.Depths);
        return here.Length == there.Length ? here.Zip(there, (a, b) => Math.Abs(a - b)).Max() * Unit : double.PositiveInfinity;
    }

    private static int[] InUnits(string depths) => [.. depths.Split(',').Select(d => int.TryParse(d, CultureInfo.InvariantCulture, out int units) ? units : int.MaxValue / 2)];
}

/// <summary>What a tile was made from.</summary>
/// <param name="Lines">Under each line that may see it, by the line's name.</param>
internal sealed record TileMark(IReadOnlyDictionary<string, LineMark> Lines)
{
    /// <summary>From one line of text; of none where there is none, or another.</summary>
    public static TileMark Parse(string? text)
    {
        var lines = new Dictionary<string, LineMark>();
        foreach (string[] part in (text ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(p => p.Split(':')))
            if (part.Length == 4)
                lines[Uri.UnescapeDataString(part[0])] = new(part[1], part[2], part[3]);
        return new(lines);
    }

    /// <summary>The text that <see cref="Parse"/> reads.</summary>
    public override string ToString() => string.Join(' ', Lines.OrderBy(l => l.Key, StringComparer.Ordinal).Select(l => $"{Uri.EscapeDataString(l.Key)}:{l.Value.Recording}:{l.Value.Seabed}:{l.Value.Depths}"));
}
