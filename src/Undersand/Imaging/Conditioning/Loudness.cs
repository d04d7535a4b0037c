namespace Undersand.Imaging.Conditioning;

/// <summary>How loud a raw trace is, and how much of it stands at its own greatest or least value.</summary>
/// <param name="Level">Standard deviation of the samples; 0 where the trace is constant.</param>
/// <param name="Highest">Greatest sample.</param>
/// <param name="Lowest">Least sample.</param>
/// <param name="FlatFraction">Part of the samples in runs of at least three at either.</param>
internal readonly record struct Loudness(float Level, float Highest, float Lowest, float FlatFraction)
{
    private const int ShortestRun = 3;

    /// <summary>Measures a trace. Level is NaN where a sample is not a finite number.</summary>
    public static Loudness Of(ReadOnlySpan<float> trace)
    {
        double sum = 0, square = 0;
        float highest = float.NegativeInfinity, lowest = float.PositiveInfinity;
        foreach (float x in trace)
        {
            sum += x;
            square += (double)x * x;
            highest = Math.Max(highest, x);
            lowest = Math.Min(lowest, x);
        }
        if (!double.IsFinite(square))
            return new Loudness(float.NaN, highest, lowest, 0);
        double mean = sum / trace.Length, level = Math.Sqrt(Math.Max(0, square / trace.Length - mean * mean));
        // A constant trace is silent, whatever its offset.
        if (level < 1e-6 * Math.Max(Math.Abs(highest), Math.Abs(lowest)))
            return new Loudness(0, highest, lowest, 0);
        return new Loudness((float)level, highest, lowest, (Flat(trace, highest) + Flat(trace, lowest)) / (float)trace.Length);
    }

    private static int Flat(ReadOnlySpan<float> trace, float limit)
    {
        int run = 0, flat = 0;
        foreach (float x in trace)
        {
            run = x == limit ? run + 1 : 0;
            flat += run == ShortestRun ? ShortestRun : run > ShortestRun ? 1 : 0;
        }
        return flat;
    }
}
