using System.Numerics;

namespace Undersand.Signal;

/// <summary>The shape of a compressed pulse after a path that absorbs in proportion to frequency.</summary>
public static class PulseShape
{
    private const int Frequencies = 256;

    /// <summary>The pulse at baseband, its carrier taken out, relative to its value at time 0 without absorption.</summary>
    /// <param name="compressor">Gives band, weight and carrier.</param>
    /// <param name="lossDbPerKhz">Attenuation × path length: dB for each kilohertz.</param>
    /// <param name="time">Seconds from the pulse's centre.</param>
    public static Complex At(PulseCompressor compressor, double lossDbPerKhz, double time)
    {
        Complex sum = 0;
        double weights = 0, width = compressor.HighFrequency - compressor.LowFrequency;
        for (int i = 0; i < Frequencies; i++)
        {
            double f = compressor.LowFrequency + (i + 0.5) * width / Frequencies, w = compressor.WeightAt(f);
            weights += w;
            sum += w * Math.Pow(10, -lossDbPerKhz * f / 20e3) * Complex.FromPolarCoordinates(1, 2 * Math.PI * (f - compressor.Carrier) * time);
        }
        return sum / weights;
    }

    /// <summary>The amplitude that absorption leaves at the pulse's peak.</summary>
    public static double Amplitude(PulseCompressor compressor, double lossDbPerKhz) => At(compressor, lossDbPerKhz, 0).Magnitude;

    /// <summary>Full width of the envelope at −6 dB (half amplitude), seconds.</summary>
    public static double Width(PulseCompressor compressor, double lossDbPerKhz)
    {
        double half = 0.5 * Amplitude(compressor, lossDbPerKhz), low = 0, high = 4 / (compressor.HighFrequency - compressor.LowFrequency);
        for (int i = 0; i < 40; i++)
        {
            double middle = 0.5 * (low + high);
            if (At(compressor, lossDbPerKhz, middle).Magnitude > half)
                low = middle;
            else
                high = middle;
        }
        return 2 * low;
    }
}
