namespace Undersand.Detection;

/// <summary>Finds local maxima of evidence, and tells which stand in the shadow of a stronger one.</summary>
internal static class PeakFinder
{
    /// <summary>Maxima among the 26 neighbours inside the tile, strongest first. At a tile's edge this asks fewer neighbours; merging drops the surplus.</summary>
    public static List<Peak> Find(TileEvidence evidence, TileIndex tile, int levels, float least)
    {
        var peaks = new List<Peak>();
        int size = VoxelGrid.TileSize;
        for (int y = 0; y < size; y++)
            for (int x = 0; x < size; x++)
                for (int z = 0; z < levels; z++)
                {
                    int at = (y * size + x) * levels + z;
                    float value = evidence.Ratio[at];
                    if (value >= least && IsGreatest(evidence.Ratio, x, y, z, levels, value))
                        peaks.Add(new Peak(tile.X * size + x, tile.Y * size + y, z, value, evidence.Lines[at]));
                }
        peaks.Sort(Strongest);
        return peaks;
    }

    /// <summary>A total order: strongest first, then by place, so that results don't depend on who found them.</summary>
    public static int Strongest(Peak a, Peak b)
    {
        int c = b.Ratio.CompareTo(a.Ratio);
        if (c != 0)
            return c;
        c = a.Y.CompareTo(b.Y);
        if (c != 0)
            return c;
        c = a.X.CompareTo(b.X);
        return c != 0 ? c : a.Z.CompareTo(b.Z);
    }

    /// <summary>Whether <paramref name="weak"/> is of the kind that a point's own sidelobes and ringing make around it: 10 dB weaker within half a metre, 30 dB within one.</summary>
    public static bool IsInShadow(Peak weak, Peak strong, double spacing)
    {
        if (!(strong.Ratio > 10 * weak.Ratio))
            return false;
        double reach = Math.Clamp(0.25 + 0.25 * Math.Log10(strong.Ratio / weak.Ratio), 0.5, 1.0);
        double dx = (weak.X - strong.X) * spacing, dy = (weak.Y - strong.Y) * spacing, dz = (weak.Z - strong.Z) * spacing;
        return dx * dx + dy * dy <= reach * reach && Math.Abs(dz) <= reach;
    }

    /// <summary>The peaks that aren't in another's shadow; and of high ones, of which one body or one heap makes many, only the highest within half a metre.</summary>
    /// <param name="peaks">Strongest first.</param>
    /// <param name="spacing">Edge of a voxel.</param>
    public static List<Peak> OnePerThing(List<Peak> peaks, double spacing)
    {
        var kept = new List<Peak>();
        var high = new List<Peak>();
        foreach (var peak in peaks)
        {
            bool isHigh = CoherenceStatistics.MeanAmplitudeExceedance(peak.Ratio, peak.Lines) < Rare;
            if (high.Any(h => IsInShadow(peak, h, spacing) || (isHigh && IsNear(peak, h, spacing))))
                continue;
            kept.Add(peak);
            if (isHigh)
                high.Add(peak);
        }
        return kept;
    }

    // So seldom without an object that two within half a metre (some hundred cells) are hardly chance.
    private const double Rare = 1e-4;

    private static bool IsNear(Peak a, Peak b, double spacing)
    {
        double dx = (a.X - b.X) * spacing, dy = (a.Y - b.Y) * spacing, dz = (a.Z - b.Z) * spacing;
        return dx * dx + dy * dy + dz * dz < 0.25;
    }

    private static bool IsGreatest(float[] ratio, int x, int y, int z, int levels, float value)
    {
        int size = VoxelGrid.TileSize, here = (y * size + x) * levels + z;
        for (int ny = Math.Max(y - 1, 0); ny <= Math.Min(y + 1, size - 1); ny++)
            for (int nx = Math.Max(x - 1, 0); nx <= Math.Min(x + 1, size - 1); nx++)
                for (int nz = Math.Max(z - 1, 0); nz <= Math.Min(z + 1, levels - 1); nz++)
                {
                    int at = (ny * size + nx) * levels + nz;
                    // Of equal neighbours the first counts.
                    if (ratio[at] > value || (at < here && ratio[at] == value))
                        return false;
                }
        return true;
    }
}
