namespace Undersand.Detection;

/// <summary>The evidence in a tile: coherent energy over its background, mean over the lines that saw the voxel.</summary>
/// <param name="Ratio">As a ratio; NaN where no line saw the voxel. Places as in <see cref="LookSums"/>.</param>
/// <param name="Lines">How many lines saw the voxel.</param>
internal sealed record TileEvidence(float[] Ratio, byte[] Lines);
