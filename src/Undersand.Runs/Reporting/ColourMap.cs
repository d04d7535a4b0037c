using System.Globalization;

namespace Undersand.Runs.Reporting;

/// <summary>A table of 256 colours from low to high values, safe for colour-vision deficiency and monotonic in lightness.</summary>
/// <remarks>One quantity has one map everywhere: <see cref="Probability"/>, <see cref="Burial"/>, <see cref="Depth"/>, <see cref="Amplitude"/>, <see cref="Coherence"/>.</remarks>
public sealed class ColourMap
{
    private static readonly Dictionary<string, ColourMap> _tables = ReadTables();

    private readonly byte[] _rgb;

    private ColourMap(string name, string source, byte[] rgb)
    {
        Name = name;
        Source = source;
        _rgb = rgb;
    }

    /// <summary>Probability, 0 to 1: cividis.</summary>
    public static ColourMap Probability => _tables["cividis"];

    /// <summary>Burial below the seabed: batlow.</summary>
    public static ColourMap Burial => _tables["batlow"];

    /// <summary>Depth below the water surface: devon, shallow light and deep dark.</summary>
    public static ColourMap Depth { get; } = Reversed(_tables["devon"]);

    /// <summary>Echo amplitude in decibels: our own grey, weak light and strong dark.</summary>
    public static ColourMap Amplitude { get; } = Grey();

    /// <summary>Share of the echoes' energy that adds up, 0 to 1: vik from its light middle upwards.</summary>
    public static ColourMap Coherence { get; } = UpperHalf(_tables["vik"]);

    /// <summary>What it is called where it was published.</summary>
    public string Name { get; }

    /// <summary>Who made it, where, under which licence.</summary>
    public string Source { get; }

    /// <summary>All maps in use, for the colophon.</summary>
    public static IReadOnlyList<ColourMap> All => [Probability, Burial, Depth, Amplitude, Coherence];

    /// <summary>The colour of an entry.</summary>
    /// <param name="index">0 to 255.</param>
    public (byte Red, byte Green, byte Blue) this[int index] => (_rgb[3 * index], _rgb[3 * index + 1], _rgb[3 * index + 2]);

    /// <summary>The entry for a value on a scale; values beyond the ends get the end's colour.</summary>
    public static int IndexOf(double value, double low, double high) =>
        (int)Math.Clamp(Math.Round((value - low) / (high - low) * 255), 0, 255);

    private static ColourMap Reversed(ColourMap map)
    {
        var rgb = new byte[768];
        for (int i = 0; i < 256; i++)
            (rgb[3 * i], rgb[3 * i + 1], rgb[3 * i + 2]) = map[255 - i];
        return new(map.Name + ", reversed", map.Source, rgb);
    }

    private static ColourMap UpperHalf(ColourMap map)
    {
        var rgb = new byte[768];
        for (int i = 0; i < 256; i++)
            (rgb[3 * i], rgb[3 * i + 1], rgb[3 * i + 2]) = map[128 + i / 2];
        return new(map.Name + ", upper half", map.Source, rgb);
    }

    // CIE 1976 lightness from 98 to 8 in equal steps, then the sRGB transfer curve (IEC 61966-2-1).
    private static ColourMap Grey()
    {
        var rgb = new byte[768];
        for (int i = 0; i < 256; i++)
        {
            double lightness = 98 - 90.0 * i / 255, f = (lightness + 16) / 116;
            double y = lightness > 8 ? f * f * f : lightness / 903.3;
            double s = y <= 0.0031308 ? 12.92 * y : 1.055 * Math.Pow(y, 1 / 2.4) - 0.055;
            rgb[3 * i] = rgb[3 * i + 1] = rgb[3 * i + 2] = (byte)Math.Round(255 * s);
        }
        return new("grey", "our own, equal steps of CIE 1976 lightness", rgb);
    }

    private static Dictionary<string, ColourMap> ReadTables()
    {
        var tables = new Dictionary<string, ColourMap>();
        string name = "";
        var bytes = new List<byte>(768);
        foreach (string line in Resources.Text("Reporting.Colours.maps.txt").Split('\n', StringSplitOptions.RemoveEmptyEntries).Append("end"))
        {
            if (line[0] == '#')
                continue;
            if (line.Contains(' ', StringComparison.Ordinal))
            {
                foreach (string hex in line.Split(' '))
                    for (int i = 0; i < 6; i += 2)
                        bytes.Add(byte.Parse(hex.AsSpan(i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture));
                continue;
            }
            if (name.Length > 0)
                tables[name] = new(name, SourceOf(name), [.. bytes]);
            name = line.Trim();
            bytes.Clear();
        }
        return tables;
    }

    private static string SourceOf(string name) => name == "cividis"
        ? "Nuñez, Anderton and Renslow 2018, PLoS ONE 13(7), e0199239; CC BY 4.0"
        : "Crameri, Scientific colour maps 8.0, doi 10.5281/zenodo.8035877; MIT licence";
}
