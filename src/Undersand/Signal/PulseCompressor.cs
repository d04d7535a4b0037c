namespace Undersand.Signal;

/// <summary>How pulses are shaped.</summary>
/// <param name="Weight">Shape of the compressed pulse's spectrum over the band.</param>
/// <param name="Regularisation">Where the replica has less than this part of its mean power in the band, it is no longer divided out.</param>
/// <param name="Oversampling">Samples a second for each hertz of bandwidth; 11.1 keeps linear interpolation within 1 % of amplitude at the band's edge.</param>
public sealed record CompressionSettings(SpectralWeight Weight = SpectralWeight.Hann, double Regularisation = 1e-6, double Oversampling = 11.1);

/// <summary>Turns each echo of a known waveform into a short pulse of known shape, at complex baseband.</summary>
/// <remarks>
/// The spectrum of the trace is divided by that of the replica where the replica has power (matched filter and whitening in one,
/// after Turin (1960), IRE Trans. Inf. Theory 6, 311–329, and Wiener's regularised inverse), and given the shape of
/// <see cref="SpectralWeight"/> over the band, so that the pulse's sidelobes are the weight's own and not the chirp's Fresnel ripple.
/// An echo that is the replica times <c>a</c>, starting at <c>τ</c>, gives a pulse that peaks at <c>τ</c> with the value <c>a</c>.
/// Baseband: the analytic pulse at time t after transmission is <c>sample · exp(+i 2π Carrier t)</c>.
/// Derivation in docs/science/pulse-compression.md. Immutable: may be shared by threads.
/// </remarks>
public sealed class PulseCompressor
{
    private readonly int _inputSize, _outputSize, _carrierBin, _lowBin, _highBin;
    private readonly float[] _filterRe, _filterIm;
    private readonly CompressionSettings _settings;

    /// <summary>For traces of one length and one replica.</summary>
    /// <param name="replica">The transmitted waveform from its start, at <paramref name="interval"/>.</param>
    /// <param name="isCorrelated">True where the traces are correlated with the replica already (peak = amplitude).</param>
    /// <param name="interval">Seconds between samples of the traces.</param>
    /// <param name="sampleCount">Samples of a trace.</param>
    /// <param name="lowFrequency">Lower edge of the band, hertz.</param>
    /// <param name="highFrequency">Upper edge, hertz; below the Nyquist frequency.</param>
    /// <param name="settings">How pulses are shaped.</param>
    public PulseCompressor(ReadOnlySpan<float> replica, bool isCorrelated, double interval, int sampleCount, double lowFrequency, double highFrequency, CompressionSettings settings)
    {
        if (!(lowFrequency >= 0 && highFrequency > lowFrequency && highFrequency <= 0.5 / interval))
            throw new ArgumentOutOfRangeException(nameof(highFrequency), highFrequency, $"the band {lowFrequency}–{highFrequency} Hz must rise and end below the Nyquist frequency {0.5 / interval} Hz");
        _settings = settings;
        InputInterval = interval;
        InputCount = sampleCount;
        LowFrequency = lowFrequency;
        HighFrequency = highFrequency;
        Reach = isCorrelated ? 0 : replica.Length * interval;
        _inputSize = FourierTransform.SizeFor(sampleCount + replica.Length);
        double binWidth = 1 / (_inputSize * interval);
        _outputSize = FourierTransform.SizeFor((int)Math.Ceiling(settings.Oversampling * (highFrequency - lowFrequency) / binWidth));
        Interval = 1 / (_outputSize * binWidth);
        SampleCount = (int)Math.Floor((sampleCount - 1) * interval / Interval) + 1;
        _carrierBin = (int)Math.Round(0.5 * (lowFrequency + highFrequency) / binWidth);
        Carrier = _carrierBin * binWidth;
        _lowBin = Math.Max((int)Math.Ceiling(lowFrequency / binWidth), 1);
        _highBin = Math.Min((int)Math.Floor(highFrequency / binWidth), _inputSize / 2 - 1);
        _filterRe = new float[_highBin - _lowBin + 1];
        _filterIm = new float[_highBin - _lowBin + 1];
        MakeFilter(replica, isCorrelated, binWidth);
        PulseWidth = PulseShape.Width(this, 0);
    }

    /// <summary>Seconds between samples of the traces that go in.</summary>
    public double InputInterval { get; }
    /// <summary>Samples of the traces that go in.</summary>
    public int InputCount { get; }
    /// <summary>Seconds between samples that come out.</summary>
    public double Interval { get; }
    /// <summary>Complex samples that come out; they span the same time as the trace.</summary>
    public int SampleCount { get; }
    /// <summary>Carrier of the baseband, hertz.</summary>
    public double Carrier { get; }
    /// <summary>Lower edge of the band, hertz.</summary>
    public double LowFrequency { get; }
    /// <summary>Upper edge of the band, hertz.</summary>
    public double HighFrequency { get; }
    /// <summary>Seconds of the trace after an echo's beginning that go into its pulse: later than this before the trace's end, echoes and noise are whole.</summary>
    public double Reach { get; }
    /// <summary>Standard deviation of the noise in |pulse| for white noise of standard deviation 1 in the trace (root mean square of the complex value).</summary>
    public double NoiseGain { get; private set; }
    /// <summary>Full width of the pulse's envelope at −6 dB, seconds, before any absorption.</summary>
    public double PulseWidth { get; }

    /// <summary>The weight of the pulse's spectrum at a frequency.</summary>
    public double WeightAt(double frequency) =>
        SpectralWeights.At(_settings.Weight, (frequency - LowFrequency) / (HighFrequency - LowFrequency) - 0.5);

    /// <summary>Compresses a trace.</summary>
    /// <param name="trace">Real samples, <see cref="InputCount"/> of them.</param>
    /// <param name="firstSampleTime">Seconds from the start of transmission to sample 0.</param>
    /// <param name="pulses">Complex samples, real and imaginary in turn: 2 × <see cref="SampleCount"/> floats; the first at the same time as sample 0.</param>
    public void Apply(ReadOnlySpan<float> trace, double firstSampleTime, Span<float> pulses)
    {
        if (trace.Length != InputCount)
            throw new ArgumentException($"the trace has {trace.Length} samples, not {InputCount}", nameof(trace));
        if (pulses.Length < 2 * SampleCount)
            throw new ArgumentException($"room for {pulses.Length / 2} pulses, {SampleCount} are needed", nameof(pulses));
        var work = Scratch.OfThread(_inputSize, _outputSize);
        Array.Clear(work.Im);
        trace.CopyTo(work.Re);
        Array.Clear(work.Re, trace.Length, _inputSize - trace.Length);
        FourierTransform.OfSize(_inputSize).Forward(work.Re, work.Im);

        Array.Clear(work.OutRe);
        Array.Clear(work.OutIm);
        for (int k = _lowBin; k <= _highBin; k++)
        {
            float xr = work.Re[k], xi = work.Im[k], hr = _filterRe[k - _lowBin], hi = _filterIm[k - _lowBin];
            int to = (k - _carrierBin) & (_outputSize - 1);
            work.OutRe[to] = xr * hr - xi * hi;
            work.OutIm[to] = xr * hi + xi * hr;
        }
        FourierTransform.OfSize(_outputSize).Backward(work.OutRe, work.OutIm);
        // The shift by the carrier counts time from sample 0; the baseband counts it from the transmission.
        double turn = -2 * Math.PI * Carrier * firstSampleTime;
        float c = (float)Math.Cos(turn), s = (float)Math.Sin(turn);
        for (int i = 0; i < SampleCount; i++)
        {
            float re = work.OutRe[i], im = work.OutIm[i];
            pulses[2 * i] = re * c - im * s;
            pulses[2 * i + 1] = re * s + im * c;
        }
    }

    private void MakeFilter(ReadOnlySpan<float> replica, bool isCorrelated, double binWidth)
    {
        var re = new float[_inputSize];
        var im = new float[_inputSize];
        replica.CopyTo(re);
        FourierTransform.OfSize(_inputSize).Forward(re, im);
        int n = _highBin - _lowBin + 1;
        double meanPower = 0, energy = 0;
        for (int k = 0; k < n; k++)
            meanPower += Power(k + _lowBin) / n;
        for (int i = 0; i < replica.Length; i++)
            energy += (double)replica[i] * replica[i];
        double sumOfWeights = 0;
        for (int k = 0; k < n; k++)
            sumOfWeights += WeightAt((k + _lowBin) * binWidth);
        double noise = 0;
        for (int k = 0; k < n; k++)
        {
            int bin = k + _lowBin;
            double w = WeightAt(bin * binWidth) / sumOfWeights, p = Power(bin), floor = _settings.Regularisation * meanPower;
            // Raw: conj(R)/(|R|² + floor). Correlated already: the spectrum is |R|²/energy, so divide by that.
            double scale = w / (p + floor);
            double hr = isCorrelated ? scale * energy : scale * re[bin], hi = isCorrelated ? 0 : -scale * im[bin];
            _filterRe[k] = (float)hr;
            _filterIm[k] = (float)hi;
            noise += (hr * hr + hi * hi) * _inputSize;
        }
        NoiseGain = Math.Sqrt(noise);

        double Power(int bin) => (double)re[bin] * re[bin] + (double)im[bin] * im[bin];
    }

    private sealed class Scratch(int inputSize, int outputSize)
    {
        [ThreadStatic] private static Scratch? s_ofThread;

        public float[] Re { get; } = new float[inputSize];
        public float[] Im { get; } = new float[inputSize];
        public float[] OutRe { get; } = new float[outputSize];
        public float[] OutIm { get; } = new float[outputSize];

        public static Scratch OfThread(int inputSize, int outputSize)
        {
            if (s_ofThread is null || s_ofThread.Re.Length != inputSize || s_ofThread.OutRe.Length != outputSize)
                s_ofThread = new Scratch(inputSize, outputSize);
            return s_ofThread;
        }
    }
}
