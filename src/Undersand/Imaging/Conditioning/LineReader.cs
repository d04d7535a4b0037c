using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>Reads pings of a line as compressed pulses: gains and tones taken out, then compressed. Nothing is judged or left out here.</summary>
public sealed class LineReader
{
    private readonly IReadOnlyList<Tone> _tones;
    private readonly double _scale;
    private readonly double[] _gains;

    /// <summary>For one line.</summary>
    /// <param name="line">The recordings.</param>
    /// <param name="survey">For calibration and channel gains.</param>
    /// <param name="compressor">Made for the line's samples.</param>
    /// <param name="tones">Tones to take out.</param>
    public LineReader(ISurveyLine line, Survey survey, PulseCompressor compressor, IReadOnlyList<Tone> tones)
    {
        Line = line;
        Compressor = compressor;
        _tones = tones;
        // Pulses are in units of the source's pressure at 1 m where that is known.
        _scale = survey.Calibration is { } c ? c.PascalPerUnit / c.SourcePressureAt1Metre : 1;
        _gains = survey.Array?.ChannelGainsDb.Select(db => Math.Pow(10, -db / 20)).ToArray() ?? [];
    }

    /// <summary>The recordings.</summary>
    public ISurveyLine Line { get; }

    /// <summary>The compressor in use.</summary>
    public PulseCompressor Compressor { get; }

    /// <summary>The tones that are taken out.</summary>
    public IReadOnlyList<Tone> Tones => _tones;

    /// <summary>Raw samples of a ping, receiver by receiver.</summary>
    public float[] ReadRaw(int pingIndex)
    {
        var raw = new float[Line.PingAt(pingIndex).Receivers.Count * Line.SampleCount];
        Line.Read(pingIndex, raw);
        return raw;
    }

    /// <summary>Compresses one raw trace of a ping.</summary>
    /// <param name="raw">Samples; they are changed.</param>
    /// <param name="ping">Its ping.</param>
    /// <param name="receiverIndex">Which of the ping's receivers.</param>
    /// <param name="pulses">2 × <see cref="PulseCompressor.SampleCount"/> floats.</param>
    public void Compress(Span<float> raw, Ping ping, int receiverIndex, Span<float> pulses)
    {
        double mean = 0;
        foreach (float x in raw)
            mean += x;
        mean /= raw.Length;
        int number = ping.Receivers[receiverIndex].Number;
        float scale = (float)(_scale * (number >= 1 && number <= _gains.Length ? _gains[number - 1] : 1)), offset = (float)mean;
        for (int i = 0; i < raw.Length; i++)
            raw[i] = (raw[i] - offset) * scale;
        foreach (var tone in _tones)
            tone.RemoveFrom(raw);
        Compressor.Apply(raw, ping.FirstSampleTime, pulses);
    }
}
