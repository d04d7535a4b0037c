using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>An echo that returns in every ping (the seabed's, or the direct arrival), learnt from the pings around and subtracted.</summary>
/// <remarks>
/// Traces are aligned on the echo's own time, scaled by its own amplitude and phase, and their median over many pings is the model: what lies
/// in fewer than half of them, such as an object, does not enter it. Each trace then loses the model times its own amplitude.
/// Millimetres of height are in the alignment and the phase, so that 20 dB and more are taken off; see docs/science/seabed-echo.md.
/// A weak echo, among which an object may lie, is not scaled to each trace (that would take the object): there the time alone aligns.
/// </remarks>
internal sealed class AlignedEcho
{
    private const int LeastTraces = 8, MostTraces = 96;
    private const double FitPart = 0.35;
    private readonly bool _scaled;
    private readonly double _interval, _carrier;
    private readonly int _before, _after, _fit;
    private readonly float[] _taper;

    /// <summary>For pulses of one kind.</summary>
    /// <param name="compressor">Whose pulses.</param>
    /// <param name="before">Seconds before the echo's time that the model covers.</param>
    /// <param name="after">Seconds after it.</param>
    /// <param name="fade">The last part of that time, over which the model fades out.</param>
    /// <param name="scaled">Whether each trace has an amplitude and phase of its own, told by the echo's peak.</param>
    public AlignedEcho(PulseCompressor compressor, double before, double after, double fade, bool scaled = true)
    {
        _scaled = scaled;
        _interval = compressor.Interval;
        _carrier = compressor.Carrier;
        _before = (int)Math.Ceiling(before / _interval);
        _after = (int)Math.Ceiling(after / _interval);
        // The main lobe alone: an object lies in its skirts at the earliest.
        _fit = Math.Max(2, (int)(FitPart * compressor.PulseWidth / _interval));
        _taper = new float[_before + _after + 1];
        for (int k = 0; k < _taper.Length; k++)
        {
            double toEnd = Math.Min((_after - (k - _before)) * _interval / fade, 1), fromStart = Math.Min((k + 1.0) / Math.Max(1, _before / 2), 1);
            _taper[k] = (float)((0.5 - 0.5 * Math.Cos(Math.PI * toEnd)) * (0.5 - 0.5 * Math.Cos(Math.PI * fromStart)));
        }
    }

    /// <summary>A trace around its echo, aligned: complex values from <c>before</c> to <c>after</c>; null where the trace does not reach.</summary>
    /// <param name="pulses">The trace.</param>
    /// <param name="firstSampleTime">Of the trace.</param>
    /// <param name="time">Of the echo.</param>
    public float[]? Cut(ReadOnlySpan<float> pulses, double firstSampleTime, double time)
    {
        double place = (time - firstSampleTime) / _interval;
        int i0 = (int)Math.Floor(place) - _before, n = _taper.Length;
        float part = (float)(place - Math.Floor(place));
        if (double.IsNaN(time) || i0 < 0 || 2 * (i0 + n) + 2 > pulses.Length)
            return null;
        var (s, c) = Math.SinCos(2 * Math.PI * _carrier * time);
        float cos = (float)c, sin = (float)s;
        var cut = new float[2 * n];
        for (int k = 0; k < n; k++)
        {
            int i = 2 * (i0 + k);
            float re = pulses[i] + part * (pulses[i + 2] - pulses[i]), im = pulses[i + 1] + part * (pulses[i + 3] - pulses[i + 1]);
            cut[2 * k] = re * cos - im * sin;
            cut[2 * k + 1] = re * sin + im * cos;
        }
        return cut;
    }

    /// <summary>The model from aligned traces; null where there are too few.</summary>
    public float[]? Learn(IReadOnlyList<float[]> cuts)
    {
        if (cuts.Count < LeastTraces)
            return null;
        int step = (cuts.Count + MostTraces - 1) / MostTraces;
        var some = step == 1 ? cuts : cuts.Where((_, i) => i % step == 0).ToList();
        if (!_scaled)
            return MedianOf(some, _ => (1, 0));
        float[] model = MedianOf(some, Value);
        return MedianOf(some, cut => AmplitudeIn(cut, model));
    }

    /// <summary>The model of a flat, hard seabed: the pulse itself. For lines too short to tell what lies under all of them.</summary>
    public float[] Pulse(PulseCompressor compressor)
    {
        var model = new float[2 * _taper.Length];
        for (int k = 0; k < _taper.Length; k++)
        {
            var value = PulseShape.At(compressor, 0, (k - _before) * _interval);
            (model[2 * k], model[2 * k + 1]) = ((float)value.Real, (float)value.Imaginary);
        }
        return model;
    }

    /// <summary>Takes the model out of a trace.</summary>
    public void SubtractFrom(Span<float> pulses, double firstSampleTime, double time, float[] model)
    {
        if (Cut(pulses, firstSampleTime, time) is not { } cut)
            return;
        var a = _scaled ? AmplitudeIn(cut, model) : (Re: 1f, Im: 0f);
        double place = (time - firstSampleTime) / _interval;
        int i0 = (int)Math.Floor(place) - _before, n = _taper.Length;
        float part = (float)(place - Math.Floor(place));
        var (s, c) = Math.SinCos(-2 * Math.PI * _carrier * time);
        float ar = (float)(a.Re * c - a.Im * s), ai = (float)(a.Re * s + a.Im * c);
        // Sample i0 + k lies at (k − part) intervals in the model's time.
        for (int k = 1; k < n; k++)
        {
            float re = model[2 * k] + part * (model[2 * k - 2] - model[2 * k]), im = model[2 * k + 1] + part * (model[2 * k - 1] - model[2 * k + 1]);
            int i = 2 * (i0 + k);
            pulses[i] -= _taper[k] * (ar * re - ai * im);
            pulses[i + 1] -= _taper[k] * (ar * im + ai * re);
        }
    }

    private (float Re, float Im) Value(float[] cut) => (cut[2 * _before], cut[2 * _before + 1]);

    /// <summary>The complex amplitude of the model in a trace, by least squares around the echo's peak.</summary>
    private (float Re, float Im) AmplitudeIn(float[] cut, float[] model)
    {
        double re = 0, im = 0, norm = 0;
        for (int k = Math.Max(0, _before - _fit); k <= Math.Min(_taper.Length - 1, _before + _fit); k++)
        {
            double mr = model[2 * k], mi = model[2 * k + 1];
            re += cut[2 * k] * mr + cut[2 * k + 1] * mi;
            im += cut[2 * k + 1] * mr - cut[2 * k] * mi;
            norm += mr * mr + mi * mi;
        }
        return norm > 0 ? ((float)(re / norm), (float)(im / norm)) : (0, 0);
    }

    private static float[] MedianOf(IReadOnlyList<float[]> cuts, Func<float[], (float Re, float Im)> amplitude)
    {
        var scaled = new List<float[]>(cuts.Count);
        foreach (var cut in cuts)
        {
            var (re, im) = amplitude(cut);
            float power = re * re + im * im;
            if (!(power > 0))
                continue;
            var one = new float[cut.Length];
            for (int k = 0; k < cut.Length; k += 2)
            {
                one[k] = (cut[k] * re + cut[k + 1] * im) / power;
                one[k + 1] = (cut[k + 1] * re - cut[k] * im) / power;
            }
            scaled.Add(one);
        }
        var median = new float[cuts[0].Length];
        var values = new float[scaled.Count];
        for (int k = 0; k < median.Length && scaled.Count > 0; k++)
        {
            for (int i = 0; i < values.Length; i++)
                values[i] = scaled[i][k];
            median[k] = Robust.Middle(values);
        }
        return median;
    }
}
