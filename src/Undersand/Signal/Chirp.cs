namespace Undersand.Signal;

/// <summary>Samples of a transmitted chirp.</summary>
public static class Chirp
{
    /// <summary>The waveform's samples from its start, peak 1.</summary>
    /// <param name="waveform">Which.</param>
    /// <param name="interval">Seconds between samples.</param>
    public static float[] Sample(Waveform waveform, double interval)
    {
        var samples = new float[(int)Math.Floor(waveform.Duration / interval + 1e-6) + 1];
        for (int i = 0; i < samples.Length; i++)
            samples[i] = (float)At(waveform, i * interval);
        return samples;
    }

    /// <summary>sin(2π(f₀t + (f₁−f₀)t²/2T)) within the waveform's duration, tapered by raised cosines; 0 outside.</summary>
    /// <param name="waveform">Which.</param>
    /// <param name="t">Seconds from the start of the transmission.</param>
    public static double At(Waveform waveform, double t)
    {
        double T = waveform.Duration;
        if (t < 0 || t > T)
            return 0;
        double phase = 2 * Math.PI * (waveform.StartFrequency * t + (waveform.EndFrequency - waveform.StartFrequency) * t * t / (2 * T));
        double edge = Math.Min(t, T - t), taper = waveform.TaperFraction * T;
        double envelope = edge < taper ? 0.5 - 0.5 * Math.Cos(Math.PI * edge / taper) : 1;
        return envelope * Math.Sin(phase);
    }
}
