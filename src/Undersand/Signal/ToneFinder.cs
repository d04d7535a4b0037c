namespace Undersand.Signal;

/// <summary>Finds steady tones in a collection of traces: lines that stand narrow and high in the spectrum, and last the whole trace.</summary>
/// <remarks>
/// The median of many traces' spectra is looked at, so that neither one bad channel nor one burst decides. A chirp's spectrum has steps and, where
/// two arrivals overlap, fringes; but it passes each frequency once, while a tone is there in every quarter of the trace.
/// </remarks>
public static class ToneFinder
{
    private const int MostTones = 8;
    private const double LeastSteadiness = 0.3;

    /// <summary>The tones, by frequency.</summary>
    /// <param name="traces">Traces of equal length; those that hold no energy or no numbers are passed over.</param>
    /// <param name="thresholdDb">How far above the median of the neighbouring frequencies a line must stand.</param>
    public static IReadOnlyList<Tone> Find(IReadOnlyList<float[]> traces, double thresholdDb)
    {
        var usable = traces.Where(t => Energy(t) is var e && e > 0 && double.IsFinite(e)).ToArray();
        if (usable.Length == 0 || usable[0].Length < 64)
            return [];
        int n = usable[0].Length, size = FourierTransform.SizeFor(4 * n);
        double[] power = MedianSpectrum(usable, size);
        return WithoutSidelobes(Peaks(power, (double)size / n, thresholdDb).OrderByDescending(k => power[(int)Math.Round(k)]), power, 12.0 * size / n)
            .Select(k => new Tone(k / size))
            .Where(t => Steadiness(t, usable) > LeastSteadiness)
            .Take(MostTones)
            .OrderBy(t => t.CyclesPerSample)
            .ToList();
    }

    private static double Energy(float[] trace)
    {
        double sum = 0;
        foreach (float x in trace)
            sum += (double)x * x;
        return sum;
    }

    private static double[] MedianSpectrum(float[][] traces, int size)
    {
        int n = traces[0].Length;
        var spectra = new float[traces.Length][];
        var re = new float[size];
        var im = new float[size];
        for (int t = 0; t < traces.Length; t++)
        {
            Array.Clear(re);
            Array.Clear(im);
            double mean = traces[t].Average(x => (double)x), energy = 0;
            for (int i = 0; i < n; i++)
            {
                re[i] = (float)((traces[t][i] - mean) * (0.5 - 0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / n)));
                energy += (double)re[i] * re[i];
            }
            float scale = energy > 0 ? (float)(1 / Math.Sqrt(energy)) : 0;
            for (int i = 0; i < n; i++)
                re[i] *= scale;
            FourierTransform.OfSize(size).Forward(re, im);
            spectra[t] = new float[size / 2];
            for (int k = 0; k < size / 2; k++)
                spectra[t][k] = re[k] * re[k] + im[k] * im[k];
        }
        var median = new double[size / 2];
        var values = new float[traces.Length];
        for (int k = 0; k < median.Length; k++)
        {
            for (int t = 0; t < values.Length; t++)
                values[t] = spectra[t][k];
            median[k] = Robust.Middle(values);
        }
        return median;
    }

    private static IEnumerable<double> Peaks(double[] power, double binsPerLine, double thresholdDb)
    {
        // A windowed line is 4 natural bins wide from null to null; surroundings are taken just beyond, so that a narrow band is no line.
        int near = (int)(3 * binsPerLine), far = (int)(9 * binsPerLine);
        double factor = Math.Pow(10, thresholdDb / 10);
        for (int k = near; k < power.Length - near; k++)
        {
            if (power[k] <= power[k - 1] || power[k] < power[k + 1])
                continue;
            // Both sides count: at the edge of the transmitted band one of them is quiet.
            double surroundings = Math.Max(MedianOf(k - far, k - near), MedianOf(k + near + 1, k + far + 1));
            if (!(power[k] > factor * surroundings))
                continue;
            double a = Math.Log(power[k - 1]), b = Math.Log(power[k]), c = Math.Log(power[k + 1]);
            yield return k + 0.5 * (a - c) / (a - 2 * b + c);
        }

        double MedianOf(int from, int to)
        {
            (from, to) = (Math.Clamp(from, 1, power.Length), Math.Clamp(to, 1, power.Length));
            return from < to ? Robust.Median(power.AsSpan(from, to - from).ToArray()) : 0;
        }
    }

    /// <summary>Leaves out the window's own sidelobes, 31 dB and more below a line and near it.</summary>
    private static List<double> WithoutSidelobes(IEnumerable<double> strongestFirst, double[] power, double reach)
    {
        var kept = new List<double>();
        foreach (double k in strongestFirst)
            if (!kept.Any(s => Math.Abs(s - k) < reach && power[(int)Math.Round(k)] < 0.003 * power[(int)Math.Round(s)]))
                kept.Add(k);
        return kept;
    }

    /// <summary>The weakest quarter of the trace over the strongest, by the tone's typical amplitude in each.</summary>
    private static double Steadiness(Tone tone, float[][] traces)
    {
        int quarter = traces[0].Length / 4;
        var amplitudes = Enumerable.Range(0, 4)
            .Select(q => Robust.MedianOf(traces.Select(t => tone.AmplitudeIn(t.AsSpan(q * quarter, quarter), q * quarter) / Math.Sqrt(Energy(t)))))
            .ToArray();
        return amplitudes.Min() / amplitudes.Max();
    }
}
