namespace Undersand.Runs;

/// <summary>How large a voxel grid would be, before anyone makes it: counts may exceed what an integer holds.</summary>
/// <param name="Width">West to east, metres.</param>
/// <param name="Height">South to north, metres.</param>
/// <param name="Burial">Seabed to the deepest level, metres.</param>
/// <param name="Voxel">Edge of a voxel, metres.</param>
public readonly record struct GridSize(double Width, double Height, double Burial, double Voxel)
{
    /// <summary>The columns of the grid.</summary>
    public double Columns => (Math.Ceiling(Width / Voxel) + 1) * (Math.Ceiling(Height / Voxel) + 1);

    /// <summary>The levels of a column.</summary>
    public double Levels => Math.Ceiling(Burial / Voxel) + 1;
}
