namespace Undersand.Detection;

/// <summary>The evidence in a tile: coherent energy over its background, by all lines that saw the voxel.</summary>
/// <param name="Ratio">As a ratio; NaN where no line saw the voxel. Places as in <see cref="LookSums"/>.</param>
/// <param name="Lines">How many lines saw the voxel.</param>
/// <param name="Reach">What a point of amplitude 1 would bring there: the sum over those lines of 1/√background, in every <see cref="Step"/>-th column, row by row, all levels of one after another.</param>
internal sealed record TileEvidence(float[] Ratio, byte[] Lines, float[] Reach)
{
    /// <summary>Columns from one of <see cref="Reach"/> to the next, whose first lies half as far within the tile. It changes slowly.</summary>
    public const int Step = 8;

    /// <summary>Columns of <see cref="Reach"/> along a tile's edge.</summary>
    public const int Side = VoxelGrid.TileSize / Step;

    /// <summary>What lines say together: the square of their mean amplitude over background, so that what all show counts more than one line's spike.</summary>
    /// <param name="amplitudes">Sum over the lines of √(energy over background).</param>
    /// <param name="lines">How many.</param>
    public static double Together(double amplitudes, int lines) => amplitudes / lines * (amplitudes / lines);
}
