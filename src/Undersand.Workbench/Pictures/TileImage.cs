using Undersand.Storage.Zarr;

namespace Undersand.Workbench.Pictures;

/// <summary>What sections show of a tile, column by column: the echo's amplitude and coherence with all lines together, and the probability.</summary>
/// <param name="Amplitude">Root of the mean over lines, weighted by their traces, of the squared amplitude of a line's coherent sum; NaN where nobody looked.</param>
/// <param name="Coherence">Share of the traces' energy that is in the coherent sums, 0 to 1; NaN where nobody looked.</param>
/// <param name="Probability">NaN where nobody looked.</param>
internal sealed record TileImage(float[] Amplitude, float[] Coherence, float[] Probability)
{
    /// <summary>Reads a tile; null where no line saw it.</summary>
    /// <remarks>Looks of one line are summed as they are, within one navigation; across lines only energies are.</remarks>
    public static TileImage? Read(ZarrVolume volume, TileIndex tile)
    {
        if (volume.ReadProbability(tile) is not { } probability)
            return null;
        int count = probability.Length;
        var energy = new float[count];
        var coherent = new float[count];
        var all = new float[count];
        var traces = new float[count];
        foreach (var line in volume.Looks.GroupBy(l => l.Line))
        {
            var (real, imaginary, squares, n) = (new float[count], new float[count], new float[count], new int[count]);
            foreach (Look look in line)
                if (volume.Read(tile, look.Index) is { } sums)
                    for (int i = 0; i < count; i++)
                    {
                        real[i] += sums.Real[i];
                        imaginary[i] += sums.Imaginary[i];
                        squares[i] += sums.SumOfSquares[i];
                        n[i] += sums.Traces[i];
                    }
            for (int i = 0; i < count; i++)
                if (n[i] > 0)
                {
                    float power = (real[i] * real[i] + imaginary[i] * imaginary[i]) / n[i];
                    energy[i] += power;
                    coherent[i] += power;
                    all[i] += squares[i];
                    traces[i] += n[i];
                }
        }
        for (int i = 0; i < count; i++)
        {
            energy[i] = traces[i] > 0 ? MathF.Sqrt(energy[i] / traces[i]) : float.NaN;
            coherent[i] = all[i] > 0 ? Math.Clamp(coherent[i] / all[i], 0, 1) : float.NaN;
        }
        return new TileImage(energy, coherent, probability);
    }
}
