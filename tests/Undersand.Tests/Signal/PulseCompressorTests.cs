using System.Numerics;
using CsCheck;
using Undersand.Imaging.Focusing;
using Undersand.Signal;

namespace Undersand.Tests.Signal;

public sealed class PulseCompressorTests
{
    private const double Interval = 20e-6;
    private static readonly Waveform s_rising = new(4000, 18000, 0.004, 0.1), s_falling = new(18000, 4000, 0.004, 0.1);

    public static TheoryData<bool, int, double> Cases => new() { { false, 600, 0 }, { true, 600, 0 }, { false, 601, 0.0013 }, { false, 512, 0 }, { true, 333, 0.25e-3 } };

    [Theory, MemberData(nameof(Cases))]
    public void An_echo_of_amplitude_a_peaks_at_its_own_time_with_a_and_phase_0(bool falling, int samples, double firstSampleTime)
    {
        var waveform = falling ? s_falling : s_rising;
        var compressor = For(waveform, samples);
        foreach (double delay in new[] { 0.8e-3, 0.8137e-3, 1.0419e-3 })
        {
            var pulses = Apply(compressor, Echo(waveform, samples, firstSampleTime, firstSampleTime + delay, -0.37), firstSampleTime);
            Assert.Equal(0, (ValueAt(compressor, pulses, firstSampleTime, firstSampleTime + delay) - -0.37).Magnitude, 0.37 * 0.005);
        }
    }

    [Fact]
    public void The_pulses_sidelobes_are_the_weights_own()
    {
        var compressor = For(s_rising, 600);
        var pulses = Apply(compressor, Echo(s_rising, 600, 0, 2e-3, 1), 0);
        double b = 14000, next = 0, far = 0;
        for (int i = 0; i < compressor.SampleCount; i++)
        {
            double t = Math.Abs(i * compressor.Interval - 2e-3) * b, size = Magnitude(pulses, i);
            if (t is > 2 and < 3)
                next = Math.Max(next, size);
            // An object under 15 cm of sand lies 2.5/B behind the seabed; half a metre, 8.5/B.
            if (t is > 8.5 and < 20)
                far = Math.Max(far, size);
        }
        Assert.Equal(-31.47, 20 * Math.Log10(next), 0.3);
        Assert.True(20 * Math.Log10(far) < -60, $"{20 * Math.Log10(far):0.0} dB");
    }

    [Fact]
    public void The_pulse_is_as_wide_as_the_weight_says() => Assert.Equal(2.0 / 14000, For(s_rising, 600).PulseWidth, 0.002 / 14000);

    [Fact]
    public void Compression_is_linear_and_shifts_with_the_trace()
    {
        var compressor = For(s_rising, 700);
        Gen.Select(Gen.Double[-1, 1], Gen.Double[-1, 1], Gen.Int[0, 150]).Sample((a, b, shift) =>
        {
            float[] x = Echo(s_rising, 700, 0, 1e-3, a), y = Echo(s_rising, 700, 0, 3.1e-3, b), sum = [.. x.Zip(y, (p, q) => p + q)];
            var apart = Apply(compressor, x, 0).Zip(Apply(compressor, y, 0), (p, q) => p + q);
            Assert.All(apart.Zip(Apply(compressor, sum, 0)), v => Assert.Equal(v.First, v.Second, 2e-5f));
            float[] later = Echo(s_rising, 700, 0, 1e-3 + shift * Interval, a);
            double before = ValueAt(compressor, Apply(compressor, x, 0), 0, 1.2e-3).Magnitude, after = ValueAt(compressor, Apply(compressor, later, 0), 0, 1.2e-3 + shift * Interval).Magnitude;
            Assert.Equal(before, after, 0.003);
        }, iter: 20, seed: "0N0XIzNsQ0O2", threads: 1);
    }

    [Fact]
    public void A_recording_correlated_already_gives_the_same_pulse()
    {
        const int samples = 640;
        float[] replica = Chirp.Sample(s_rising, Interval), raw = Echo(s_rising, samples + replica.Length, 0, 2.0137e-3, 0.6);
        double energy = replica.Sum(x => (double)x * x);
        // Correlated so that the peak of an echo is its amplitude.
        float[] correlated = [.. Enumerable.Range(0, samples).Select(i => (float)(replica.Select((r, j) => (double)r * raw[i + j]).Sum() / energy))];
        var direct = For(s_rising, samples + replica.Length);
        var already = new PulseCompressor(replica, true, Interval, samples, 4000, 18000, new CompressionSettings());
        Complex a = ValueAt(direct, Apply(direct, raw, 0), 0, 2.0137e-3), b = ValueAt(already, Apply(already, correlated, 0), 0, 2.0137e-3);
        Assert.Equal(0.6, b.Real, 0.006);
        Assert.Equal(0, (a - b).Magnitude, 0.006);
        Assert.Equal(0, already.Reach);
    }

    [Fact]
    public void Noise_passes_with_the_gain_stated()
    {
        var compressor = For(s_rising, 4000);
        var random = new Random(5);
        float[] noise = [.. Enumerable.Range(0, 4000).Select(_ => (float)(Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble())))];
        float[] pulses = Apply(compressor, noise, 0);
        // The last 4 ms hold only parts of chirps.
        int whole = (int)((4000 * Interval - compressor.Reach) / compressor.Interval);
        double power = Enumerable.Range(0, whole).Average(i => Magnitude(pulses, i) * Magnitude(pulses, i));
        Assert.Equal(1, Math.Sqrt(power) / compressor.NoiseGain, 0.05);
    }

    [Fact]
    public void The_noise_gain_is_that_of_a_matched_filter_but_for_the_weights_loss()
    {
        // Check WA-21 in another guise: a matched filter gains E = ΣR² ≈ N/2, so white noise of 1 leaves √(1/E) in the real part and as much in the imaginary.
        // Hann loses 1.761 dB on a flat spectrum; the chirp's own ripple and taper a little more.
        var compressor = For(s_rising with { TaperFraction = 0.02 }, 600);
        double energy = Chirp.Sample(s_rising with { TaperFraction = 0.02 }, Interval).Sum(x => (double)x * x);
        double loss = 20 * Math.Log10(Math.Sqrt(2 / energy) / compressor.NoiseGain);
        Assert.InRange(loss, -1.761 - 0.6, -1.761 + 0.45);
    }

    [Fact]
    public void Whitening_gives_a_coloured_replica_the_same_pulse()
    {
        // A transducer that answers 12 dB louder at the top of the band than at its foot.
        float[] replica = Coloured(Chirp.Sample(s_rising, Interval));
        var compressor = new PulseCompressor(replica, false, Interval, 600, 4000, 18000, new CompressionSettings());
        var trace = new float[600];
        for (int i = 0; i < replica.Length; i++)
            trace[i + 100] = 0.5f * replica[i];
        float[] got = Apply(compressor, trace, 0), flat = Apply(For(s_rising, 600), Echo(s_rising, 600, 0, 100 * Interval, 0.5), 0);
        Assert.All(got.Zip(flat), v => Assert.Equal(v.First, v.Second, 0.01f));
    }

    [Fact]
    public void Interpolation_between_samples_errs_by_less_than_1_percent_at_the_bands_edge()
    {
        var compressor = For(s_rising, 600);
        Assert.True(EchoSet.InterpolationError(14000, compressor.Interval) <= 0.01);
        // By trial: a phasor at the edge, half way between its samples.
        double turn = Math.PI * 14000 * compressor.Interval;
        Complex middle = 0.5 * (1 + Complex.FromPolarCoordinates(1, turn));
        Assert.True((middle - Complex.FromPolarCoordinates(1, turn / 2)).Magnitude <= 0.01);
    }

    [Theory]
    [InlineData(4000, 30000)]
    [InlineData(18000, 4000)]
    public void A_band_that_falls_or_exceeds_Nyquist_is_refused(double low, double high) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new PulseCompressor(Chirp.Sample(s_rising, Interval), false, Interval, 600, low, high, new CompressionSettings()));

    private static float[] Coloured(float[] x) => [.. x.Select((v, i) => v - 0.6f * (i > 0 ? x[i - 1] : 0))];

    private static PulseCompressor For(Waveform waveform, int samples) =>
        new(Chirp.Sample(waveform, Interval), false, Interval, samples, waveform.LowFrequency, waveform.HighFrequency, new CompressionSettings());

    private static float[] Echo(Waveform waveform, int samples, double firstSampleTime, double time, double amplitude) =>
        [.. Enumerable.Range(0, samples).Select(i => (float)(amplitude * Chirp.At(waveform, firstSampleTime + i * Interval - time)))];

    private static float[] Apply(PulseCompressor compressor, float[] trace, double firstSampleTime)
    {
        var pulses = new float[2 * compressor.SampleCount];
        compressor.Apply(trace, firstSampleTime, pulses);
        return pulses;
    }

    /// <summary>The analytic pulse at a time, by linear interpolation as the imaging does it.</summary>
    private static Complex ValueAt(PulseCompressor compressor, float[] pulses, double firstSampleTime, double time)
    {
        double place = (time - firstSampleTime) / compressor.Interval;
        int i = (int)place;
        Complex a = new(pulses[2 * i], pulses[2 * i + 1]), b = new(pulses[2 * i + 2], pulses[2 * i + 3]);
        return (a + (place - i) * (b - a)) * Complex.FromPolarCoordinates(1, 2 * Math.PI * compressor.Carrier * time);
    }

    private static double Magnitude(float[] pulses, int i) => Math.Sqrt((double)pulses[2 * i] * pulses[2 * i] + (double)pulses[2 * i + 1] * pulses[2 * i + 1]);
}
