namespace Undersand.Signal;

/// <summary>A steady tone in the recordings: interference of machinery or electronics.</summary>
/// <param name="CyclesPerSample">Its frequency, in cycles per sample.</param>
public sealed record Tone(double CyclesPerSample)
{
    /// <summary>Takes the tone out of a trace by least squares: its amplitude and phase are the trace's own.</summary>
    public void RemoveFrom(Span<float> trace)
    {
        double cc = 0, ss = 0, cs = 0, xc = 0, xs = 0;
        for (int i = 0; i < trace.Length; i++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * CyclesPerSample * i);
            cc += c * c;
            ss += s * s;
            cs += c * s;
            xc += trace[i] * c;
            xs += trace[i] * s;
        }
        double det = cc * ss - cs * cs;
        if (det <= 0)
            return;
        double a = (xc * ss - xs * cs) / det, b = (xs * cc - xc * cs) / det;
        for (int i = 0; i < trace.Length; i++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * CyclesPerSample * i);
            trace[i] -= (float)(a * c + b * s);
        }
    }

    /// <summary>Finds tones in a collection of traces, by their averaged spectrum: narrow lines far above their surroundings.</summary>
    /// <param name="traces">Traces of equal length.</param>
    /// <param name="thresholdDb">How far above the median of the neighbouring frequencies a line must stand.</param>
    public static IReadOnlyList<Tone> Find(IReadOnlyList<float[]> traces, double thresholdDb)
    {
        if (traces.Count == 0)
            return [];
        int n = traces[0].Length, size = FourierTransform.SizeFor(4 * n), bins = size / 2;
        var power = new double[bins];
        var re = new float[size];
        var im = new float[size];
        foreach (var trace in traces)
        {
            Array.Clear(re);
            Array.Clear(im);
            double mean = trace.Average(x => (double)x), energy = 0;
            for (int i = 0; i < n; i++)
            {
                re[i] = (float)((trace[i] - mean) * (0.5 - 0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / n)));
                energy += re[i] * re[i];
            }
            if (energy <= 0)
                continue;
            FourierTransform.OfSize(size).Forward(re, im);
            for (int k = 0; k < bins; k++)
                power[k] += ((double)re[k] * re[k] + (double)im[k] * im[k]) / energy;
        }
        return Peaks(power, (double)size / n, thresholdDb).Select(k => new Tone(k / size)).ToList();
    }

    private static IEnumerable<double> Peaks(double[] power, double binsPerLine, double thresholdDb)
    {
        // A windowed line is about 4 natural bins wide; surroundings are taken beyond that.
        int near = (int)(4 * binsPerLine), far = (int)(16 * binsPerLine);
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

        double MedianOf(int from, int to) =>
            Robust.Median(power.AsSpan(Math.Clamp(from, 1, power.Length), Math.Clamp(to, 1, power.Length) - Math.Clamp(from, 1, power.Length)).ToArray());
    }
}
