using System.Numerics;
using MathNet.Numerics.IntegralTransforms;
using Undersand.Signal;

namespace Undersand.Tests.Signal;

public sealed class ChirpTests
{
    // Checks WA-19 and WA-20: autocorrelation envelope of 4–18 kHz, 5 ms, by FFT at 1 MHz (scipy). Here by MathNet, which the product does not use.
    [Theory]
    [InlineData(0.0, 63.14, 72.0, -13.44)]
    [InlineData(0.1, 72.16, 82.0, -13.50)]
    public void The_chirps_autocorrelation_has_the_published_shape(double taper, double width, double firstMinimum, double sidelobe)
    {
        // The table's envelope is that of the complex chirp; its imaginary part is ours. (Of the real one alone, untapered, the sidelobe is 0.17 dB lower.)
        float[] chirp = Chirp.Sample(new Waveform(4000, 18000, 0.005, taper), 1e-6);
        Complex[] phasor = [.. Enumerable.Range(0, chirp.Length).Select(i => Phasor(i * 1e-6, taper))];
        Assert.All(chirp.Zip(phasor), v => Assert.Equal(v.First, v.Second.Imaginary, 1e-6));
        double[] envelope = AutocorrelationEnvelope(phasor);
        double cross = Enumerable.Range(1, 500).First(i => envelope[i] < Math.Sqrt(0.5));
        cross = cross - 1 + (envelope[(int)cross - 1] - Math.Sqrt(0.5)) / (envelope[(int)cross - 1] - envelope[(int)cross]);
        int minimum = Enumerable.Range(1, 500).First(i => envelope[i] < envelope[i - 1] && envelope[i] <= envelope[i + 1]);
        Assert.Equal(width, 2 * cross, 0.1);
        Assert.Equal(firstMinimum, minimum, 1.0);
        Assert.Equal(sidelobe, 20 * Math.Log10(envelope[minimum..2000].Max()), 0.1);
    }

    [Fact]
    public void A_falling_sweep_is_a_rising_one_backwards()
    {
        // The phases agree up to a constant only where the cycles are whole: 11 kHz × 4 ms = 44.
        float[] up = Chirp.Sample(new Waveform(4000, 18000, 0.004, 0.1), 1e-5), down = Chirp.Sample(new Waveform(18000, 4000, 0.004, 0.1), 1e-5);
        for (int i = 0; i < up.Length; i++)
            Assert.Equal(up[i], -down[^(i + 1)], 1e-5);
    }

    [Theory]
    [InlineData(0.005, 1e-5, 501)]
    [InlineData(0.005, 20e-6, 251)]
    [InlineData(0.003, 31.25e-6, 97)]
    public void A_chirp_has_its_last_sample(double duration, double interval, int samples) =>
        Assert.Equal(samples, Chirp.Sample(new Waveform(2000, 8000, duration, 0.1), interval).Length);

    [Fact]
    public void A_chirp_starts_at_phase_zero_as_a_sine()
    {
        var chirp = new Waveform(4000, 18000, 0.005, 0);
        Assert.Equal(0, Chirp.At(chirp, 0), 1e-12);
        // sin(2π(f₀t + (f₁−f₀)t²/2T)) at t = 20 µs, worked by hand: 2π(0.08 + 0.00056) = 0.50617.
        Assert.Equal(Math.Sin(0.506173), Chirp.At(chirp, 20e-6), 1e-6);
    }

    private static Complex Phasor(double t, double taper)
    {
        double edge = Math.Min(t, 0.005 - t) / 0.005;
        return Complex.FromPolarCoordinates(edge < taper ? Math.Pow(Math.Sin(0.5 * Math.PI * edge / taper), 2) : 1, 2 * Math.PI * (4000 * t + 1.4e6 * t * t));
    }

    private static double[] AutocorrelationEnvelope(Complex[] chirp)
    {
        var spectrum = new Complex[1 << 14];
        chirp.CopyTo(spectrum, 0);
        Fourier.Forward(spectrum, FourierOptions.Matlab);
        for (int k = 0; k < spectrum.Length; k++)
            spectrum[k] *= Complex.Conjugate(spectrum[k]);
        Fourier.Inverse(spectrum, FourierOptions.Matlab);
        double peak = spectrum[0].Magnitude;
        return Array.ConvertAll(spectrum, c => c.Magnitude / peak);
    }
}
