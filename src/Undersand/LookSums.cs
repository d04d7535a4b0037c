namespace Undersand;

/// <summary>What is kept of a tile under one look: the complex sum, the sum of squared magnitudes and the number of traces in each voxel.</summary>
/// <remarks>
/// A voxel's place in each array is <c>(iy * TileSize + ix) * levels + iz</c>: a column is contiguous. Columns outside the grid hold zeros.
/// Sums are scaled so that (Real + i·Imaginary) / Traces is the echo's amplitude with spreading, absorption and transmission undone
/// (√σ in metres where the survey is calibrated, else relative), and SumOfSquares / Traces the mean squared magnitude of single traces in that unit.
/// A voxel nobody looked at has zero traces.
/// </remarks>
public sealed class LookSums
{
    /// <summary>All zeros.</summary>
    /// <param name="levels">Levels of burial.</param>
    public LookSums(int levels)
    {
        Levels = levels;
        int n = VoxelGrid.TileSize * VoxelGrid.TileSize * levels;
        Real = new float[n];
        Imaginary = new float[n];
        SumOfSquares = new float[n];
        Traces = new int[n];
    }

    /// <summary>Levels of burial.</summary>
    public int Levels { get; }

    /// <summary>Real part of the complex sum.</summary>
    public float[] Real { get; }

    /// <summary>Imaginary part of the complex sum.</summary>
    public float[] Imaginary { get; }

    /// <summary>Sum of the squared magnitudes.</summary>
    public float[] SumOfSquares { get; }

    /// <summary>Number of traces.</summary>
    public int[] Traces { get; }

    /// <summary>Adds another look of the same line at the same tile, which its one navigation allows; between lines it would not.</summary>
    public void Add(LookSums other)
    {
        for (int i = 0; i < Traces.Length; i++)
        {
            Real[i] += other.Real[i];
            Imaginary[i] += other.Imaginary[i];
            SumOfSquares[i] += other.SumOfSquares[i];
            Traces[i] += other.Traces[i];
        }
    }

    /// <summary>A tile as one line saw it, its looks added up in their order; null where it never did.</summary>
    public static LookSums? OfLine(IVolume volume, TileIndex tile, int line)
    {
        LookSums? sum = null;
        foreach (var look in volume.Looks)
            if (look.Line == line)
                sum = volume.ReadOnto(sum, tile, look.Index);
        return sum;
    }

    /// <summary>Where a column starts in each array.</summary>
    public int ColumnStart(int ix, int iy) => (iy * VoxelGrid.TileSize + ix) * Levels;
}
