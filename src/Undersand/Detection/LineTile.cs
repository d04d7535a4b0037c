namespace Undersand.Detection;

/// <summary>A tile as one line saw it: the looks of the line added up, which its own navigation allows.</summary>
/// <remarks>Amplitude is (Σ sum)/(Σ traces); a voxel nobody looked at has NaN energy. Places as in <see cref="LookSums"/>.</remarks>
internal sealed class LineTile
{
    private LineTile(LookSums sums)
    {
        (Real, Imaginary) = (sums.Real, sums.Imaginary);
        Energy = new float[Real.Length];
        Incoherent = sums.SumOfSquares;
        SelfNoise = new float[Real.Length];
        Normalize(sums.Traces);
    }

    public float[] Real { get; }

    public float[] Imaginary { get; }

    /// <summary>|amplitude|².</summary>
    public float[] Energy { get; }

    /// <summary>What |amplitude|² the part of the traces that they don't have in common would give: (Σ|x|² − |Σx|²/N)/(N(N−1)). Zero for a point in focus.</summary>
    public float[] Incoherent { get; }

    /// <summary>What a body's own echo adds to the background around it: N traces that agree in one place disagree around it, and leave about 1/N of its energy there; a little less is counted on, and no more than a hundred traces would leave.</summary>
    public float[] SelfNoise { get; }

    /// <summary>The background that there would be without the voxel's own echo: the background measured, less <see cref="SelfNoise"/>, but never less than a seventh of it.</summary>
    public float WithoutSelf(int place, float background)
    {
        float measured = Math.Max(background, Incoherent[place]);
        return Math.Max(measured - SelfNoise[place], measured / 7);
    }

    /// <summary>Null where no look of the line saw the tile.</summary>
    public static LineTile? Read(IVolume volume, TileIndex tile, int line) => LookSums.OfLine(volume, tile, line) is { } sums ? new LineTile(sums) : null;

    // One or two traces can't show coherence; such voxels count as not seen.
    private void Normalize(int[] traces)
    {
        for (int i = 0; i < traces.Length; i++)
        {
            if (traces[i] < 3)
            {
                Real[i] = Imaginary[i] = 0;
                Energy[i] = Incoherent[i] = float.NaN;
                continue;
            }
            float scale = 1f / traces[i];
            Real[i] *= scale;
            Imaginary[i] *= scale;
            Energy[i] = Real[i] * Real[i] + Imaginary[i] * Imaginary[i];
            SelfNoise[i] = 0.7f / Math.Max(traces[i], 100) * Energy[i];
            Incoherent[i] = Math.Max((Incoherent[i] * scale - Energy[i]) / (traces[i] - 1), 0);
        }
    }
}
