namespace Undersand.Imaging.Focusing;

/// <summary>Conditioned traces of a run of pings of one line, as complex baseband, with the place and time of each. Frozen: nobody writes to the arrays any more.</summary>
/// <remarks>
/// The analytic signal of a trace at time t from the start of the transmission is sample(t) · exp(+i2π · <see cref="Carrier"/> · t), so an
/// echo of a positive reflector that arrives at time τ has its analytic signal real and positive at τ.
/// Traces are ordered by ping; consecutive traces with the same source position share the work for that position.
/// </remarks>
public sealed class EchoSet
{
    /// <summary>Takes the arrays over; they must not change afterwards.</summary>
    /// <param name="carrier">Carrier frequency of the baseband, hertz.</param>
    /// <param name="interval">Time between samples, seconds.</param>
    /// <param name="sampleCount">Complex samples a trace, at least 2.</param>
    /// <param name="trackAzimuth">Direction of the track, clockwise from grid north: what is ahead and what astern.</param>
    /// <param name="startTimes">Per trace, seconds from the start of the transmission to sample 0.</param>
    /// <param name="sources">Per trace, where the source was.</param>
    /// <param name="receivers">Per trace, where the receiver was.</param>
    /// <param name="samples">Real and imaginary parts interleaved, one trace after another.</param>
    /// <exception cref="ArgumentException">Lengths don't fit, or a number is outside its range.</exception>
    public EchoSet(
        double carrier, double interval, int sampleCount, Angle trackAzimuth,
        double[] startTimes, GridPoint[] sources, GridPoint[] receivers, float[] samples)
    {
        if (!(carrier >= 0 && double.IsFinite(carrier)))
            throw new ArgumentOutOfRangeException(nameof(carrier), carrier, "the carrier is finite and not negative");
        if (!(interval > 0 && double.IsFinite(interval)))
            throw new ArgumentOutOfRangeException(nameof(interval), interval, "the interval is finite and above 0 s");
        if (sampleCount < 2)
            throw new ArgumentOutOfRangeException(nameof(sampleCount), sampleCount, "a trace has at least 2 samples");
        if (sources.Length != startTimes.Length || receivers.Length != startTimes.Length)
            throw new ArgumentException($"{startTimes.Length} start times need as many sources and receivers, not {sources.Length} and {receivers.Length}");
        if (samples.LongLength != 2L * sampleCount * startTimes.Length)
            throw new ArgumentException($"{startTimes.Length} traces of {sampleCount} samples need {2L * sampleCount * startTimes.Length} floats, not {samples.LongLength}", nameof(samples));
        Carrier = carrier;
        Interval = interval;
        SampleCount = sampleCount;
        TrackAzimuth = trackAzimuth;
        StartTimes = startTimes;
        Sources = sources;
        Receivers = receivers;
        Samples = samples;
    }

    /// <summary>Carrier frequency, hertz.</summary>
    public double Carrier { get; }

    /// <summary>Time between samples, seconds.</summary>
    public double Interval { get; }

    /// <summary>Complex samples a trace.</summary>
    public int SampleCount { get; }

    /// <summary>Number of traces.</summary>
    public int TraceCount => StartTimes.Length;

    /// <summary>Direction of the track, clockwise from grid north.</summary>
    public Angle TrackAzimuth { get; }

    /// <summary>Per trace, seconds from the start of the transmission to sample 0.</summary>
    public double[] StartTimes { get; }

    /// <summary>Per trace, where the source was.</summary>
    public GridPoint[] Sources { get; }

    /// <summary>Per trace, where the receiver was.</summary>
    public GridPoint[] Receivers { get; }

    /// <summary>Real and imaginary parts interleaved, trace after trace.</summary>
    public float[] Samples { get; }

    /// <summary>The interleaved samples of one trace.</summary>
    public ReadOnlySpan<float> Trace(int trace) => Samples.AsSpan(checked(2 * SampleCount * trace), 2 * SampleCount);

    /// <summary>
    /// Greatest error of linear interpolation between samples at the edge of the band, as a fraction of the amplitude: 1 − cos(π·f·Δt) for
    /// the highest baseband frequency f = bandwidth / 2 (half way between two samples of a turning phasor; exact, our own derivation).
    /// </summary>
    /// <param name="bandwidth">Full width of the band that the baseband holds about its carrier, hertz.</param>
    /// <param name="interval">Time between samples, seconds.</param>
    public static double InterpolationError(double bandwidth, double interval) => 1 - Math.Cos(Math.PI * 0.5 * bandwidth * interval);
}
