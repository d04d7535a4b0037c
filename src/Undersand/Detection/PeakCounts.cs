namespace Undersand.Detection;

/// <summary>How many peaks of which height were met, by level and class of lines, and in how many voxels.</summary>
internal sealed class PeakCounts(int levels)
{
    /// <summary>Lowest evidence counted, dB.</summary>
    public const double FirstDb = -4;
    /// <summary>Width of a bin, dB.</summary>
    public const double StepDb = 0.25;
    /// <summary>Bins; the last holds all above.</summary>
    public const int Bins = 336;
    /// <summary>Classes of the number of lines that saw a voxel.</summary>
    public const int Classes = 6;
    private readonly int[] _counts = new int[levels * Classes * Bins];
    private readonly long[] _voxels = new long[levels * Classes];

    /// <summary>Levels of burial.</summary>
    public int Levels => levels;

    /// <summary>One, two, three, four, five to seven, eight and more lines.</summary>
    public static int ClassOf(int lines) => lines switch { <= 1 => 0, 2 => 1, 3 => 2, 4 => 3, <= 7 => 4, _ => 5 };

    /// <summary>The fewest lines of a class: what is certain.</summary>
    public static int LinesOf(int lineClass) => lineClass switch { 4 => 5, 5 => 8, _ => lineClass + 1 };

    /// <summary>Evidence at the middle of a bin, dB.</summary>
    public static double DbOf(int bin) => FirstDb + (bin + 0.5) * StepDb;

    public int Count(int level, int lineClass, int bin) => _counts[(level * Classes + lineClass) * Bins + bin];

    public long Voxels(int level, int lineClass) => _voxels[level * Classes + lineClass];

    public void AddPeak(Peak peak)
    {
        int bin = (int)Math.Floor((peak.Db - FirstDb) / StepDb);
        if (bin >= 0)
            _counts[(peak.Z * Classes + ClassOf(peak.Lines)) * Bins + Math.Min(bin, Bins - 1)]++;
    }

    public void AddVoxels(TileEvidence evidence)
    {
        int size = VoxelGrid.TileSize;
        for (int y = 1; y < size - 1; y++)
            for (int x = 1; x < size - 1; x++)
                for (int z = 0; z < levels; z++)
                    if (evidence.Lines[(y * size + x) * levels + z] is > 0 and byte lines)
                        _voxels[z * Classes + ClassOf(lines)]++;
    }

    public void Add(PeakCounts other)
    {
        for (int i = 0; i < _counts.Length; i++)
            _counts[i] += other._counts[i];
        for (int i = 0; i < _voxels.Length; i++)
            _voxels[i] += other._voxels[i];
    }
}
