namespace Undersand.Imaging.Focusing;

/// <summary>A run of levels that one polynomial serves, with the mapping of burial that keeps its degree low.</summary>
/// <remarks>
/// y = √(b + H) − y_c for a burial b: leg times vary fastest close under the seabed, and H, a third of the least height, spreads those levels out.
/// y_c keeps y small, so that its rounding costs nothing.
/// </remarks>
internal sealed class LevelPanel
{
    public const int Multiple = 16;

    public LevelPanel(VoxelGrid grid, int first, int count, double leastHeight)
    {
        (First, Count) = (first, count);
        Padded = (count + Multiple - 1) / Multiple * Multiple;
        FirstBurial = grid.BurialAt(first);
        Spacing = grid.Spacing;
        Shift = leastHeight / 3;
        double low = Math.Sqrt(FirstBurial + Shift), high = Math.Sqrt(LastBurial + Shift);
        Centre = (float)(0.5 * (low + high));
        Greatest = (float)(high - Centre);
        Mapped = new float[Padded];
        for (int k = 0; k < Padded; k++)
            Mapped[k] = (float)(Math.Sqrt(FirstBurial + k * Spacing + Shift) - Centre);
    }

    /// <summary>Number of the first level, and how many there are.</summary>
    public int First { get; }

    public int Count { get; }

    /// <summary>Levels with room for whole vectors.</summary>
    public int Padded { get; }

    public double FirstBurial { get; }

    public double Spacing { get; }

    /// <summary>Burial just behind the last padded level.</summary>
    public double LastBurial => FirstBurial + Padded * Spacing;

    /// <summary>H of the mapping.</summary>
    public double Shift { get; }

    /// <summary>y_c of the mapping.</summary>
    public float Centre { get; }

    /// <summary>The greatest y, where polynomials end.</summary>
    public float Greatest { get; }

    /// <summary>[level] y.</summary>
    public float[] Mapped { get; }

    /// <summary>
    /// Cuts the levels so that each panel is about four times as long as the one above: times vary fastest close under the seabed,
    /// and few traces reach there, so short panels cost least there.
    /// </summary>
    public static LevelPanel[] Cut(VoxelGrid grid, int panels, double leastHeight)
    {
        var result = new List<LevelPanel>();
        int first = 0;
        for (int i = 0; i < panels && first < grid.CountZ; i++)
        {
            int end = (int)Math.Round(grid.CountZ * Math.Pow(4, i - panels + 1.0) / Multiple) * Multiple;
            end = i == panels - 1 ? grid.CountZ : Math.Min(Math.Max(end, first + Multiple), grid.CountZ);
            result.Add(new LevelPanel(grid, first, end - first, leastHeight));
            first = end;
        }
        return [.. result];
    }
}
