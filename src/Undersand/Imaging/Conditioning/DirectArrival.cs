using System.Numerics;
using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>Takes the direct arrival, source to receiver through the water, out of a compressed trace by the pulse's known shape.</summary>
/// <remarks>Its time is known from the positions to a centimetre or so, its strength and phase are the trace's own, by least squares around its peak.</remarks>
internal sealed class DirectArrival
{
    private const int PerSample = 16;
    private const double Extent = 6, FitExtent = 0.35, Search = 0.3;
    private readonly PulseCompressor _compressor;
    private readonly double _soundSpeed;
    private readonly Complex[] _shape;
    private readonly int _half;

    /// <summary>For pulses of one kind.</summary>
    public DirectArrival(PulseCompressor compressor, double soundSpeed)
    {
        (_compressor, _soundSpeed) = (compressor, soundSpeed);
        _half = (int)Math.Ceiling(Extent * compressor.PulseWidth / compressor.Interval) * PerSample;
        _shape = new Complex[2 * _half + 1];
        for (int i = 0; i <= _half; i++)
        {
            _shape[_half + i] = PulseShape.At(compressor, 0, i * compressor.Interval / PerSample);
            _shape[_half - i] = Complex.Conjugate(_shape[_half + i]);
        }
    }

    /// <summary>When it arrives, seconds.</summary>
    public double TimeAt(Ping ping, int receiver) => ping.Source.DistanceTo(ping.Receivers[receiver].Position) / _soundSpeed;

    /// <summary>Subtracts it from a trace; gives the amplitude that it had.</summary>
    public double SubtractFrom(float[] pulses, Ping ping, int receiver)
    {
        double place = (TimeAt(ping, receiver) - ping.FirstSampleTime) / _compressor.Interval;
        int reach = (int)(Search * _compressor.PulseWidth / _compressor.Interval), peak = Peak(pulses, (int)Math.Round(place), reach);
        if (peak < 0)
            return 0;
        // The fraction of a sample by trial, ever finer: the one that takes the most out.
        int at = 0;
        for (int step = PerSample / 2; step >= 1; step /= 2)
            at = new[] { at - step, at, at + step }.MaxBy(fraction => Fit(pulses, peak, fraction).Taken);
        var amplitude = Fit(pulses, peak, at).Amplitude;
        int samples = pulses.Length / 2;
        for (int k = Math.Max(0, peak - _half / PerSample + 1); k < Math.Min(samples, peak + _half / PerSample); k++)
        {
            var echo = amplitude * _shape[_half + (k - peak) * PerSample - at];
            pulses[2 * k] -= (float)echo.Real;
            pulses[2 * k + 1] -= (float)echo.Imaginary;
        }
        return amplitude.Magnitude;
    }

    /// <summary>The amplitude of a pulse that peaks this fraction behind a sample, and the power that it takes out.</summary>
    private (double Taken, Complex Amplitude) Fit(float[] pulses, int peak, int fraction)
    {
        int fit = (int)(FitExtent * _compressor.PulseWidth / _compressor.Interval);
        Complex sum = 0;
        double norm = 0;
        for (int k = Math.Max(0, peak - fit); k <= Math.Min(pulses.Length / 2 - 1, peak + fit); k++)
        {
            var shape = _shape[_half + (k - peak) * PerSample - fraction];
            sum += new Complex(pulses[2 * k], pulses[2 * k + 1]) * Complex.Conjugate(shape);
            norm += shape.Real * shape.Real + shape.Imaginary * shape.Imaginary;
        }
        return ((sum.Real * sum.Real + sum.Imaginary * sum.Imaginary) / norm, sum / norm);
    }

    private static int Peak(ReadOnlySpan<float> pulses, int around, int reach)
    {
        int best = -1;
        double most = 0;
        for (int k = Math.Max(0, around - reach); k <= Math.Min(pulses.Length / 2 - 1, around + reach); k++)
        {
            double power = (double)pulses[2 * k] * pulses[2 * k] + (double)pulses[2 * k + 1] * pulses[2 * k + 1];
            if (power > most)
                (most, best) = (power, k);
        }
        return best;
    }
}
