using System.Numerics;
using System.Runtime.InteropServices;

namespace Undersand.Storage.Surveys;

/// <summary>Checks each trace that is read.</summary>
internal static class SampleValues
{
    /// <exception cref="SurveyException">A sample is no number, infinite, or beyond what a 32-bit float holds.</exception>
    public static void RefuseNonFinite(ReadOnlySpan<float> samples, string file, int trace)
    {
        if (AllFinite(samples))
            return;
        for (int i = 0; i < samples.Length; i++)
            if (!float.IsFinite(samples[i]))
                throw new SurveyException(file, $"trace {trace + 1}, sample {i + 1}", float.IsNaN(samples[i]) ? "the sample is not a number (NaN)" : "the sample is infinite or too large", "mark the trace dead (bytes 29–30 = 2), or export it again");
    }

    /// <summary>Zero times a finite number is zero, times any other NaN.</summary>
    private static bool AllFinite(ReadOnlySpan<float> samples)
    {
        ReadOnlySpan<Vector<float>> vectors = MemoryMarshal.Cast<float, Vector<float>>(samples);
        Vector<float> sum = Vector<float>.Zero;
        foreach (Vector<float> vector in vectors)
            sum += vector * Vector<float>.Zero;
        float rest = Vector.Sum(sum);
        foreach (float sample in samples[(vectors.Length * Vector<float>.Count)..])
            rest += sample * 0;
        return rest == 0;
    }
}
