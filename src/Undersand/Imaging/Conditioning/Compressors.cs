using Undersand.Signal;

namespace Undersand.Imaging.Conditioning;

/// <summary>Makes the compressor that fits a line: from its recorded replica, else from the survey's waveform.</summary>
public static class Compressors
{
    /// <summary>The compressor for a line's traces.</summary>
    /// <exception cref="SurveyException">The waveform is not known, or lies outside what the sample interval can hold.</exception>
    public static PulseCompressor For(Survey survey, ISurveyLine line, CompressionSettings settings)
    {
        float[] replica = line.Replica?.ToArray()
            ?? (survey.Waveform is { } w ? Chirp.Sample(w, line.SampleInterval)
            : throw new SurveyException(line.Name, null, "the transmitted waveform is given neither in survey.json, nor in the headers, nor as a replica trace", "add “waveform” to survey.json"));
        var (low, high) = survey.Waveform is { } known ? (known.LowFrequency, known.HighFrequency) : BandOf(replica, line.SampleInterval);
        double nyquist = 0.5 / line.SampleInterval;
        if (high > nyquist)
            throw new SurveyException(line.Name, null, $"the waveform reaches {high:0} Hz, above the {nyquist:0} Hz that samples every {line.SampleInterval * 1e6:0.###} µs can hold", "correct the waveform or the sample interval");
        return new PulseCompressor(replica, line.IsCorrelated, line.SampleInterval, line.SampleCount, low, high, settings);
    }

    /// <summary>The band in which a replica has at least a tenth of its greatest (smoothed) spectral power.</summary>
    private static (double Low, double High) BandOf(float[] replica, double interval)
    {
        int size = FourierTransform.SizeFor(2 * replica.Length), smooth = Math.Max(2, size / replica.Length * 4);
        var re = new float[size];
        var im = new float[size];
        replica.CopyTo(re, 0);
        FourierTransform.OfSize(size).Forward(re, im);
        var power = new double[size / 2];
        for (int k = 0; k < power.Length; k++)
            for (int j = Math.Max(0, k - smooth); j <= Math.Min(power.Length - 1, k + smooth); j++)
                power[k] += re[j] * re[j] + im[j] * im[j];
        double threshold = 0.1 * power.Max();
        int first = Array.FindIndex(power, p => p >= threshold), last = Array.FindLastIndex(power, p => p >= threshold);
        return (Math.Max(first, 1) / (size * interval), (last + 1) / (size * interval));
    }
}
