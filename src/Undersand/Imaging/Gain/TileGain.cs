namespace Undersand.Imaging.Gain;

/// <summary>How a line's sums in a tile answer to a point of unit strength and to noise, on a coarse grid that is interpolated.</summary>
/// <remarks>
/// Per node: E = Σ w·a, where a is what spreading, transmission, absorption and beam leave of a unit scatterer's echo in a trace and w the
/// summation's weight; W₂ = Σ w²; N the traces with w above 0. A sum times N/E is N times the scatterer's amplitude.
/// </remarks>
internal sealed class TileGain
{
    /// <summary>Columns between nodes.</summary>
    public const int Step = 8;

    /// <summary>Nodes along a side of a tile.</summary>
    public const int Side = VoxelGrid.TileSize / Step + 1;

    private readonly int _levels;

    /// <summary>All zeros.</summary>
    public TileGain(int levels)
    {
        _levels = levels;
        Response = new double[Side * Side * levels];
        Noise = new double[Side * Side * levels];
        Traces = new double[Side * Side * levels];
        Weight = new double[Side * Side * levels];
    }

    /// <summary>E at (node, level): <c>(y * Side + x) * levels + k</c>.</summary>
    public double[] Response { get; }
    /// <summary>W₂.</summary>
    public double[] Noise { get; }
    /// <summary>N.</summary>
    public double[] Traces { get; }
    /// <summary>Σ w.</summary>
    public double[] Weight { get; }

    /// <summary>A quantity of the nodes at a column of the tile and a level, all of them fractions.</summary>
    public double At(double[] of, double ix, double iy, double level)
    {
        double x = Math.Clamp(ix / Step, 0, Side - 1), y = Math.Clamp(iy / Step, 0, Side - 1), z = Math.Clamp(level, 0, _levels - 1);
        int i = Math.Min((int)x, Side - 2), j = Math.Min((int)y, Side - 2), k = Math.Min((int)z, Math.Max(_levels - 2, 0)), up = Math.Min(k + 1, _levels - 1);
        double fx = x - i, fy = y - j, fz = z - k;
        return (1 - fz) * Plane(k) + fz * Plane(up);

        double Plane(int level) =>
            (1 - fy) * ((1 - fx) * of[(j * Side + i) * _levels + level] + fx * of[(j * Side + i + 1) * _levels + level])
            + fy * ((1 - fx) * of[((j + 1) * Side + i) * _levels + level] + fx * of[((j + 1) * Side + i + 1) * _levels + level]);
    }
}
