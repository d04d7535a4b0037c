using Undersand.Storage.Zarr;

namespace Undersand.Workbench.Pictures;

/// <summary>What sections show of a tile, column by column: what all lines together say, and the probability.</summary>
/// <param name="Together">Amplitude and coherence.</param>
/// <param name="Probability">NaN where nobody looked.</param>
internal sealed record TileImage(LinesTogether Together, float[] Probability)
{
    /// <summary>Reads a tile; null where no line saw it.</summary>
    /// <remarks>Results of earlier versions don't hold what lines say together: it is put together again then.</remarks>
    public static TileImage? Read(ZarrVolume volume, TileIndex tile) =>
        volume.ReadProbability(tile) is { } probability && (volume.ReadTogether(tile) ?? LinesTogether.Of(volume, tile)) is { } together ? new TileImage(together, probability) : null;
}
