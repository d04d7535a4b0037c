using Undersand.Imaging.Conditioning;
using Undersand.Runs.Reporting;
using Undersand.Signal;
using Undersand.Storage.Surveys;
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
        recorded.Folder is { } folder && folder.Lines.FirstOrDefault(l => l.Name == n) is { } line && results.Contents.Lines.FirstOrDefault(l => l.Name == n) is { } result ? new LineEchoes(line, folder, result, MostRows) : null);

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
        return Png.Encode(Columns, line.Rows, [.. greatest.Select(a => Strength.IndexOf(float.IsNaN(a) ? double.NaN : 20 * Math.Log10(Math.Max(a / line.Strongest, 1e-9)) + gain))], ColourMap.Amplitude);
    }
}

/// <summary>One line's recordings as compressed echoes, and when the tracked seabed answers.</summary>
internal sealed class LineEchoes
{
    private readonly ISurveyLine _line;
    private readonly LineReader _reader;
    private readonly LineResult _result;
    private readonly double _soundSpeed;
    private readonly int _fold;
    private readonly Lazy<double> _strongest;

    public LineEchoes(ISurveyLine line, SurveyFolder folder, LineResult result, int mostRows)
    {
        (_line, _result, _soundSpeed) = (line, result, folder.Survey.Water.SoundSpeed);
        PulseCompressor compressor = Compressors.For(folder.Survey, line, new CompressionSettings());
        _reader = new LineReader(line, folder.Survey, compressor, []);
        _fold = (compressor.SampleCount + mostRows - 1) / mostRows;
        Interval = compressor.Interval * _fold;
        (double first, double last) = (double.MaxValue, double.MinValue);
        for (int i = 0; i < PingCount; i++)
            (first, last) = (Math.Min(first, line.PingAt(i).FirstSampleTime), Math.Max(last, line.PingAt(i).FirstSampleTime));
        FirstTime = first;
        Rows = Math.Min((int)Math.Ceiling(compressor.SampleCount / (double)_fold + (last - first) / Interval), 4 * mostRows);
        Receivers = [.. line.PingAt(0).Receivers.Select(r => r.Number)];
        _strongest = new(FindStrongest);
    }

    public int PingCount => _line.PingCount;

    public int Rows { get; }

    /// <summary>Seconds from the start of transmission to the first row's beginning.</summary>
    public double FirstTime { get; }

    /// <summary>Seconds a row.</summary>
    public double Interval { get; }

    /// <summary>The receivers' numbers, in their order.</summary>
    public IReadOnlyList<int> Receivers { get; }

    /// <summary>The strength that is 0 dB.</summary>
    public double Strongest => _strongest.Value;

    /// <summary>Adds a ping's strengths to a column whose rows lie some way apart; the greater stays. Silent receivers add nothing.</summary>
    public void AddTo(int ping, int receiver, Span<float> column, int apart)
    {
        if (Strengths(ping, receiver) is not { } strengths)
            return;
        int shift = (int)Math.Round((_line.PingAt(ping).FirstSampleTime - FirstTime) / Interval);
        for (int i = 0; i < strengths.Length && i / _fold + shift < Rows; i++)
        {
            ref float into = ref column[(i / _fold + shift) * apart];
            into = float.IsNaN(into) ? strengths[i] : Math.Max(into, strengths[i]);
        }
    }

    /// <summary>Where each ping's source was, and when the seabed tracked under it answers at a receiver, seconds; NaN where it was not found.</summary>
    public IEnumerable<(GridPoint Source, double Seabed)> Pings(int receiver)
    {
        Dictionary<int, double?> depths = _result.Pings.DistinctBy(p => p.Number).ToDictionary(p => p.Number, p => p.SeabedDepth);
        for (int i = 0; i < PingCount; i++)
        {
            Ping ping = _line.PingAt(i);
            yield return (ping.Source, depths.GetValueOrDefault(ping.Number) is { } depth ? SeabedGeometry.EchoTime(ping.Source, ping.Receivers[receiver].Position, depth, _soundSpeed) : double.NaN);
        }
    }

    private float[]? Strengths(int ping, int receiver)
    {
        Ping at = _line.PingAt(ping);
        if (!at.Receivers[receiver].Live)
            return null;
        int samples = _line.SampleCount;
        var pulses = new float[2 * _reader.Compressor.SampleCount];
        _reader.Compress(_reader.ReadRaw(ping).AsSpan(receiver * samples, samples), at, receiver, pulses);
        return [.. Enumerable.Range(0, pulses.Length / 2).Select(i => MathF.Sqrt(pulses[2 * i] * pulses[2 * i] + pulses[2 * i + 1] * pulses[2 * i + 1]))];
    }

    // From two dozen pings spread over the line, each at another receiver.
    private double FindStrongest()
    {
        const int looks = 24;
        float[] values = [.. Enumerable.Range(0, looks).SelectMany(i => Strengths((int)((long)i * PingCount / looks), i % Receivers.Count) ?? []).Order()];
        return values.Length == 0 ? 1 : Math.Max(values[(int)(0.999 * (values.Length - 1))], 1e-30f);
    }
}
