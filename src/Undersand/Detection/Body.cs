namespace Undersand.Detection;

/// <summary>A thing in the making: its strongest peak, the lines that see it, the voxels that belong to it.</summary>
internal sealed class Body(Peak seed, IReadOnlyList<LineSupport> lines, HashSet<(int X, int Y, int Z)> voxels)
{
    /// <summary>The strongest peak.</summary>
    public Peak Seed => seed;

    /// <summary>All lines that saw the place.</summary>
    public IReadOnlyList<LineSupport> Lines => lines;

    /// <summary>Voxels connected with the seed.</summary>
    public IReadOnlyCollection<(int X, int Y, int Z)> Voxels => voxels;

    /// <summary>Fractional level of the top.</summary>
    public double TopLevel { get; set; } = seed.Z;

    /// <summary>What was made of it.</summary>
    public Target? Target { get; set; }

    /// <summary>Whether a peak lies in it or touches it.</summary>
    public bool Has(Peak peak)
    {
        for (int dz = -1; dz <= 1; dz++)
            for (int dy = -1; dy <= 1; dy++)
                for (int dx = -1; dx <= 1; dx++)
                    if (voxels.Contains((peak.X + dx, peak.Y + dy, peak.Z + dz)))
                        return true;
        return false;
    }
}
