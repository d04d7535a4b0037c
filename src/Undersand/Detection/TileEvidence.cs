namespace Undersand.Detection;

/// <summary>The evidence in a tile: coherent energy over its background, by all lines that saw the voxel.</summary>
/// <param name="Ratio">As a ratio; NaN where no line saw the voxel. Places as in <see cref="LookSums"/>.</param>
/// <param name="Lines">How many lines saw the voxel.</param>
internal sealed record TileEvidence(float[] Ratio, byte[] Lines)
{
    /// <summary>What lines say together: the square of their mean amplitude over background, so that what all show counts more than one line's spike.</summary>
    /// <param name="amplitudes">Sum over the lines of √(energy over background).</param>
    /// <param name="lines">How many.</param>
    public static double Together(double amplitudes, int lines) => amplitudes / lines * (amplitudes / lines);
}
