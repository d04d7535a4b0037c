using System.IO.Compression;
using Undersand.Runs.Processing;
using Undersand.Runs.Reporting;
using Undersand.Workbench.Results;

namespace Undersand.Workbench.Pictures;

/// <summary>Draws a recorded line's echoes at one receiver, ping by ping, time downwards: each ping compressed to pulses, their strength in decibels.</summary>
/// <remarks>A picture is 256 columns wide; at level k a column is <c>2^k</c> pings and shows the greatest of them. A row is a sample, or the greatest of a few where a trace has more than 1024.</remarks>
internal sealed class EchoTiles(OpenedResults results, RecordedSurvey recorded)
{
    public const int Columns = 256, MostLevel = 8, MostGain = 60;
    private const int MostRows = 1024;
    private const double DecibelsShown = 60;
    private readonly KeptPictures<(string, int, int, int, int), byte[]> _pictures = new(256);
    private readonly KeptPictures<string, LineEchoes?> _lines = new(8);

    /// <summary>What the greys mean; with gain, weaker echoes get the same greys.</summary>
    public static Quantity Strength { get; } = new("echo", "Echo as recorded, dB", "0 dB is the strength that one sample in a thousand of the line exceeds, at all its receivers; compressed to pulses; gains stated for the receivers are undone, and the one chosen is added.", ColourMap.Amplitude, -DecibelsShown, 0, false);

    /// <summary>A line; null where results or recordings don't have it.</summary>
    public LineEchoes? Line(string name) => _lines.Get(name, n =>
        recorded.Folder is { } folder && folder.Lines.FirstOrDefault(l => l.Name == n) is { } line && results.Contents.Lines.FirstOrDefault(l => l.Name == n) is { } result ? new LineEchoes(line, folder.Survey, result, MostRows) : null);

    /// <summary>A picture; null where line, receiver, level, place or gain is none.</summary>
    public byte[]? Picture(string name, int receiver, int level, int x, int gain)
    {
        if (level is < 0 or > MostLevel || gain is < 0 or > MostGain || x < 0 || Line(name) is not { } line || (uint)receiver >= (uint)line.Receivers.Count || ((long)x * Columns << level) >= line.PingCount)
            return null;
        return _pictures.Get((name, receiver, level, x, gain), _ => Make(line, receiver, level, x, gain));
    }

    private static byte[] Make(LineEchoes line, int receiver, int level, int x, int gain)
    {
        var greatest = new float[Columns * line.Rows];
        Array.Fill(greatest, float.NaN);
        for (int ping = x * Columns << level; ping < Math.Min((x + 1) * Columns << level, line.PingCount); ping++)
            line.AddTo(ping, receiver, greatest.AsSpan((ping >> level) - x * Columns), Columns);
        return Png.Encode(Columns, line.Rows, [.. greatest.Select(a => Strength.IndexOf(float.IsNaN(a) ? double.NaN : 20 * Math.Log10(Math.Max(a / line.Strongest, 1e-9)) + gain))], ColourMap.Amplitude, CompressionLevel.Fastest);
    }
}
