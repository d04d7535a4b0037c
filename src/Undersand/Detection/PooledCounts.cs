namespace Undersand.Detection;

/// <summary>Peaks by height, and the cells among which they were met, added up over burials and numbers of lines.</summary>
internal sealed class PooledCounts
{
    // Clutter half a metre deeper is much the same; what one line more or less shows is a little like it, and all there is where few places were seen so often.
    private const double Reach = 0.4, OtherLines = 0.03;

    /// <summary>Peaks in each bin.</summary>
    public double[] Counts { get; } = new double[PeakCounts.Bins];

    /// <summary>Voxels.</summary>
    public double Voxels { get; private set; }

    /// <summary>Those of one class of lines within half a band of a level.</summary>
    public static PooledCounts Own(PeakCounts counts, int lineClass, int centre, int half)
    {
        var pool = new PooledCounts();
        for (int z = Math.Max(centre - half, 0); z <= Math.Min(centre + half, counts.Levels - 1); z++)
            pool.Add(counts, lineClass, z, 1);
        return pool;
    }

    /// <summary>Those of all burials and classes, the nearer the more.</summary>
    public static PooledCounts Around(PeakCounts counts, int lineClass, int centre, double spacing)
    {
        var pool = new PooledCounts();
        for (int z = 0; z < counts.Levels; z++)
            for (int c = 0; c < PeakCounts.Classes; c++)
                pool.Add(counts, c, z, Math.Exp(-Math.Abs(z - centre) * spacing / Reach) * Math.Pow(OtherLines, Math.Abs(c - lineClass)));
        return pool;
    }

    private void Add(PeakCounts counts, int lineClass, int z, double weight)
    {
        Voxels += weight * counts.Voxels(z, lineClass);
        for (int i = 0; i < PeakCounts.Bins; i++)
            Counts[i] += weight * counts.Count(z, lineClass, i);
    }
}
