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
        int[] lines = [.. volume.Looks.Select(l => l.Line).Distinct()];
        var sums = new LookSums?[lines.Length];
        Parallel.For(0, lines.Length, line => sums[line] = LookSums.OfLine(volume, tile, lines[line]));
        foreach (LookSums line in sums.OfType<LookSums>())
            for (int i = 0; i < count; i++)
                if (line.Traces[i] > 0)
                {
                    float power = (line.Real[i] * line.Real[i] + line.Imaginary[i] * line.Imaginary[i]) / line.Traces[i];
                    energy[i] += power;
                    coherent[i] += power;
                    all[i] += line.SumOfSquares[i];
                    traces[i] += line.Traces[i];
                }
        for (int i = 0; i < count; i++)
        {
            energy[i] = traces[i] > 0 ? MathF.Sqrt(energy[i] / traces[i]) : float.NaN;
            coherent[i] = all[i] > 0 ? Math.Clamp(coherent[i] / all[i], 0, 1) : float.NaN;
        }
        return new TileImage(energy, coherent, probability);
    }
}
