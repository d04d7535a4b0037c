namespace Undersand.Runs;

/// <summary>Refuses a voxel size that needs more memory or disk than the machine has, and says what would fit.</summary>
/// <remarks>
/// The grid is never held whole: in memory are the columns' maps and, for each thread, a tile under each of its line's looks; on the
/// disk are the tiles that were looked at. Both grow with the area over the voxel's square, and by its cube with the burial levels.
/// </remarks>
public sealed class MemoryBudget
{
    /// <summary>Bytes of a voxel under one look: real and imaginary part, sum of squares, number of traces.</summary>
    public const int BytesPerVoxelAndLook = 16;

    /// <summary>Bytes of a column: the maps of the seabed, the greatest probability and its burial, the reach, and their working copies.</summary>
    public const int BytesPerColumn = 64;

    // Part of what is free that a run may take: the rest is for the recordings in hand and for whoever else uses the machine.
    private const double Share = 0.8;

    private readonly double _memory, _disk;

    /// <param name="memory">Bytes of memory a run may use.</param>
    /// <param name="disk">Bytes free on the disk of the results.</param>
    public MemoryBudget(double memory, double disk)
    {
        _memory = memory;
        _disk = disk;
    }

    /// <summary>What this machine has, where the results go; a volume that is there already counts as room, for it is written over.</summary>
    /// <param name="results">The results folder.</param>
    public static MemoryBudget OfThisMachine(ResultsFolder results)
    {
        long there = Directory.Exists(results.Volume)
            ? new DirectoryInfo(results.Volume).EnumerateFiles("*", SearchOption.AllDirectories).Sum(f => f.Length)
            : 0;
        return new(GC.GetGCMemoryInfo().TotalAvailableMemoryBytes, (double)new DriveInfo(results.Path).AvailableFreeSpace + there);
    }

    /// <summary>Bytes of memory for a grid.</summary>
    /// <param name="grid">Its size.</param>
    /// <param name="looksInHand">Looks of a tile held at once, over all threads.</param>
    public static double MemoryFor(GridSize grid, int looksInHand) =>
        grid.Columns * BytesPerColumn + looksInHand * VoxelGrid.TileSize * VoxelGrid.TileSize * grid.Levels * BytesPerVoxelAndLook;

    /// <summary>Bytes of disk for a grid, before compression.</summary>
    /// <param name="grid">Its size.</param>
    /// <param name="looksOfAColumn">Looks that see a column, on average over the whole grid: 2 where a quarter of it is seen by 8.</param>
    public static double DiskFor(GridSize grid, double looksOfAColumn) =>
        grid.Columns * grid.Levels * (looksOfAColumn * BytesPerVoxelAndLook + sizeof(float));

    /// <summary>Goes through if the grid fits.</summary>
    /// <param name="survey">The survey's folder, as the user named it.</param>
    /// <param name="grid">The size of the grid asked for.</param>
    /// <param name="looksInHand">Looks of a tile held at once, over all threads.</param>
    /// <param name="looksOfAColumn">Looks that see a column, on average over the whole grid.</param>
    /// <exception cref="SurveyException">It doesn't; the sentence names the smallest voxel that would.</exception>
    public void Require(string survey, GridSize grid, int looksInHand, double looksOfAColumn)
    {
        double memory = MemoryFor(grid, looksInHand), disk = DiskFor(grid, looksOfAColumn);
        if (Fits(memory, disk))
            return;
        string what = memory > Share * _memory
            ? $"{Size(memory)} of memory, and {Size(Share * _memory)} can be had"
            : $"{Size(disk)} of disk for the volume, and {Size(Share * _disk)} can be had";
        string mend = SmallestVoxelThatFits(grid, looksInHand, looksOfAColumn) is { } voxel
            ? $"a voxel of {voxel:0.###} m would fit: give it there or with --voxel"
            : "no voxel up to 1 m would fit either: look at the recordings' positions, make room, or process fewer lines at a time";
        throw new SurveyException(Path.Combine(survey, "survey.json"), "image.voxel_m",
            $"voxels of {grid.Voxel:0.######} m over {grid.Width:#,0} m by {grid.Height:#,0} m and {grid.Burial:0.##} m of burial need {what}", mend);
    }

    private bool Fits(double memory, double disk) => memory <= Share * _memory && disk <= Share * _disk;

    // By steps of 5 mm, as people would give it.
    private double? SmallestVoxelThatFits(GridSize grid, int looksInHand, double looksOfAColumn)
    {
        for (int step = (int)Math.Ceiling(grid.Voxel / 0.005); step <= 200; step++)
        {
            GridSize coarser = grid with { Voxel = step * 0.005 };
            if (Fits(MemoryFor(coarser, looksInHand), DiskFor(coarser, looksOfAColumn)))
                return coarser.Voxel;
        }
        return null;
    }

    private static string Size(double bytes) => bytes switch
    {
        >= 1e15 => $"{bytes / 1e15:#,0} PB",
        >= 1e12 => $"{bytes / 1e12:0.#} TB",
        >= 1e9 => $"{bytes / 1e9:0.#} GB",
        _ => $"{bytes / 1e6:0} MB",
    };
}
