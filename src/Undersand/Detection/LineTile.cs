namespace Undersand.Detection;

/// <summary>A tile as one line saw it: the looks of the line added up, which its own navigation allows.</summary>
/// <remarks>Amplitude is (Σ sum)/(Σ traces); a voxel nobody looked at has NaN energy. Places as in <see cref="LookSums"/>.</remarks>
internal sealed class LineTile
{
    private LineTile(int length)
    {
        Real = new float[length];
        Imaginary = new float[length];
        Energy = new float[length];
        Incoherent = new float[length];
        SelfNoise = new float[length];
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
    public static LineTile? Read(IVolume volume, TileIndex tile, int line)
    {
        LineTile? result = null;
        int[]? traces = null;
        foreach (var look in volume.Looks)
        {
            if (look.Line != line || volume.Read(tile, look.Index) is not { } sums)
                continue;
            result ??= new LineTile(sums.Real.Length);
            traces ??= new int[sums.Real.Length];
            for (int i = 0; i < traces.Length; i++)
            {
                result.Real[i] += sums.Real[i];
                result.Imaginary[i] += sums.Imaginary[i];
                result.Incoherent[i] += sums.SumOfSquares[i];
                traces[i] += sums.Traces[i];
            }
        }
        result?.Normalize(traces!);
        return result;
    }

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
