using Undersand.Storage.Zarr;

namespace Undersand.Workbench.Pictures;

/// <summary>A tile as pictures show it: for each quantity the entries of its colour map, column by column, in the order of <see cref="LookSums"/>; 0 where nobody looked.</summary>
internal sealed record TileImage(byte[] Reflectivity, byte[] Coherence, byte[] Probability)
{
    /// <summary>Reads a tile; null where no line saw it.</summary>
    /// <param name="volume">The results' volume.</param>
    /// <param name="tile">Which.</param>
    /// <param name="quantities">Echo strength over <paramref name="strongest"/> in decibels, coherence, probability.</param>
    /// <param name="strongest">The amplitude that is 0 dB.</param>
    public static TileImage? Read(ZarrVolume volume, TileIndex tile, IReadOnlyList<Quantity> quantities, double strongest)
    {
        if (volume.ReadProbability(tile) is not { } probability || Together(volume, tile) is not { } together)
            return null;
        return new TileImage([.. together.Amplitude.Select(a => quantities[0].IndexOf(float.IsNaN(a) ? double.NaN : 20 * Math.Log10(Math.Max(a / strongest, 1e-6))))],
            [.. together.Coherence.Select(c => quantities[1].IndexOf(c))], [.. probability.Select(p => quantities[2].IndexOf(p))]);
    }

    /// <summary>What all lines together say; null where none saw the tile.</summary>
    /// <remarks>Results of earlier versions don't hold it: it is put together again then.</remarks>
    public static LinesTogether? Together(ZarrVolume volume, TileIndex tile) => volume.ReadTogether(tile) ?? LinesTogether.Of(volume, tile);

    /// <summary>The entries of one quantity.</summary>
    public byte[] Of(Quantity quantity) => quantity.Name switch { "reflectivity" => Reflectivity, "coherence" => Coherence, _ => Probability };
}
