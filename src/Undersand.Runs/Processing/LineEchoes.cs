using Undersand.Imaging.Conditioning;
using Undersand.Signal;

namespace Undersand.Runs.Processing;

/// <summary>One line's recordings as compressed echoes, and when the tracked seabed answers.</summary>
public sealed class LineEchoes
{
    private readonly ISurveyLine _line;
    private readonly LineReader _reader;
    private readonly LineResult _result;
    private readonly double _soundSpeed;
    private readonly int _fold;
    private readonly Lazy<double> _strongest;

    /// <summary>For one line.</summary>
    /// <param name="line">Its recording.</param>
    /// <param name="survey">The survey it belongs to.</param>
    /// <param name="result">What processing said of it.</param>
    /// <param name="mostRows">More samples than this are taken together.</param>
    public LineEchoes(ISurveyLine line, Survey survey, LineResult result, int mostRows)
    {
        (_line, _result, _soundSpeed) = (line, result, survey.Water.SoundSpeed);
        PulseCompressor compressor = Compressors.For(survey, line, new CompressionSettings());
        _reader = new LineReader(line, survey, compressor, []);
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

    /// <summary>The number of pings.</summary>
    public int PingCount => _line.PingCount;

    /// <summary>Rows of a picture.</summary>
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
            yield return (ping.Source, depths.GetValueOrDefault(ping.Number) is { } depth ? TimeOf(i, receiver, depth) : double.NaN);
        }
    }

    /// <summary>The number that a ping carries in the recording.</summary>
    public int NumberOf(int ping) => _line.PingAt(ping).Number;

    /// <summary>When a level seabed at this depth answers at a receiver, seconds.</summary>
    public double TimeOf(int ping, int receiver, double depth)
    {
        Ping at = _line.PingAt(ping);
        return SeabedGeometry.EchoTime(at.Source, at.Receivers[receiver].Position, depth, _soundSpeed);
    }

    /// <summary>The depth of the level seabed that answers at a receiver at this time, metres; NaN where none below the source does.</summary>
    public double DepthAt(int ping, int receiver, double time)
    {
        Ping at = _line.PingAt(ping);
        double depth = SeabedGeometry.DepthFor(at.Source, at.Receivers[receiver].Position, time, _soundSpeed);
        return depth > at.Source.Depth ? depth : double.NaN;
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
