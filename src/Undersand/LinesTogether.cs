namespace Undersand;

/// <summary>What all lines together say of a tile's voxels, for people to look at. Places as in <see cref="LookSums"/>.</summary>
/// <remarks>Looks of one line are summed as they are, within one navigation; across lines only energies are.</remarks>
/// <param name="Amplitude">Root of the mean over lines, weighted by their traces, of the squared amplitude of a line's coherent sum; NaN where nobody looked.</param>
/// <param name="Coherence">Share of the traces' energy that is in the coherent sums, 0 to 1; NaN where nobody looked.</param>
public sealed record LinesTogether(float[] Amplitude, float[] Coherence)
{
    /// <summary>Puts a tile's lines together; null where no line saw it.</summary>
    public static LinesTogether? Of(IVolume volume, TileIndex tile) => Of(volume.Looks.Select(l => l.Line).Distinct().Select(line => LookSums.OfLine(volume, tile, line)));

    /// <summary>Puts together what lines saw of a tile, in their order; null where none saw it.</summary>
    public static LinesTogether? Of(IEnumerable<LookSums?> lines)
    {
        float[]? coherent = null, all = null, traces = null;
        foreach (LookSums? line in lines)
        {
            if (line is not { } sums)
                continue;
            int count = sums.Traces.Length;
            (coherent, all, traces) = (coherent ?? new float[count], all ?? new float[count], traces ?? new float[count]);
            for (int i = 0; i < count; i++)
                if (sums.Traces[i] > 0)
                {
                    coherent[i] += (sums.Real[i] * sums.Real[i] + sums.Imaginary[i] * sums.Imaginary[i]) / sums.Traces[i];
                    all[i] += sums.SumOfSquares[i];
                    traces[i] += sums.Traces[i];
                }
        }
        if (coherent is null)
            return null;
        var amplitude = new float[coherent.Length];
        for (int i = 0; i < coherent.Length; i++)
        {
            amplitude[i] = traces![i] > 0 ? MathF.Sqrt(coherent[i] / traces[i]) : float.NaN;
            coherent[i] = all![i] > 0 ? Math.Clamp(coherent[i] / all[i], 0, 1) : float.NaN;
        }
        return new LinesTogether(amplitude, coherent);
    }
}
