namespace Undersand.Signal;

/// <summary>A steady tone in the recordings: interference of machinery or electronics.</summary>
/// <param name="CyclesPerSample">Its frequency, in cycles per sample.</param>
public sealed record Tone(double CyclesPerSample)
{
    /// <summary>Takes the tone out of a trace by least squares: its amplitude and phase are the trace's own.</summary>
    public void RemoveFrom(Span<float> trace)
    {
        var (a, b) = Fit(trace, 0);
        for (int i = 0; i < trace.Length; i++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * CyclesPerSample * i);
            trace[i] -= (float)(a * c + b * s);
        }
    }

    /// <summary>Amplitude of the tone in a part of a trace.</summary>
    internal double AmplitudeIn(ReadOnlySpan<float> part, int firstSample)
    {
        var (a, b) = Fit(part, firstSample);
        return Math.Sqrt(a * a + b * b);
    }

    private (double Cosine, double Sine) Fit(ReadOnlySpan<float> trace, int firstSample)
    {
        double cc = 0, ss = 0, cs = 0, xc = 0, xs = 0;
        for (int i = 0; i < trace.Length; i++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * CyclesPerSample * (firstSample + i));
            cc += c * c;
            ss += s * s;
            cs += c * s;
            xc += trace[i] * c;
            xs += trace[i] * s;
        }
        double det = cc * ss - cs * cs;
        return det <= 1e-9 * cc * ss ? (0, 0) : ((xc * ss - xs * cs) / det, (xs * cc - xc * cs) / det);
    }
}
