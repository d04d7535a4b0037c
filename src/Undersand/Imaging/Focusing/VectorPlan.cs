namespace Undersand.Imaging.Focusing;

/// <summary>What the vector engine needs to know before it starts on a tile: which traces reach it, and how fine the polynomials must be.</summary>
internal sealed class VectorPlan
{
    private const int MostPanels = 8;
    private const double LeastHeight = 0.05;

    public VectorPlan(VoxelGrid grid, TileColumns columns, EchoSet echoes, FocusSettings settings, Aperture aperture)
    {
        Parts = TraceRecords.PartsFor(echoes);
        Interval = echoes.Interval / Parts;
        Places = new TracePlaces(columns, echoes, Interval);
        Pings = PingRuns.Reaching(grid, columns, echoes, aperture, settings);
        double least = double.PositiveInfinity, greatest = LeastHeight;
        foreach (PingRun ping in Pings)
            for (int t = ping.FirstTrace; t < ping.FirstTrace + ping.Traces; t++)
                foreach (double depth in (ReadOnlySpan<double>)[echoes.Sources[t].Depth, echoes.Receivers[t].Depth])
                    (least, greatest) = (Math.Min(least, columns.LeastDepth - depth), Math.Max(greatest, columns.GreatestDepth - depth));
        least = Math.Clamp(least, LeastHeight, greatest);
        (Refine, Panels, GreatestError) = Choose(grid, echoes, settings, aperture, least, greatest);
        GoodEnough = GreatestError <= 10 * settings.PathTolerance;
        LegTimes = new LegTimes(settings.WaterSoundSpeed, settings.SedimentSoundSpeed, Interval, Refine);
    }

    /// <summary>Into how many parts an interval between samples is cut, and how long a part is.</summary>
    public int Parts { get; }

    public double Interval { get; }

    /// <summary>The pings that reach the tile, in order.</summary>
    public PingRun[] Pings { get; }

    public TracePlaces Places { get; }

    public bool Refine { get; }

    public LevelPanel[] Panels { get; }

    public LegTimes LegTimes { get; }

    /// <summary>Greatest error met over the aperture when the choice was made, in samples.</summary>
    public double GreatestError { get; }

    /// <summary>Whether the polynomials are good enough to use: at most ten times the tolerance, where single precision or a height of centimetres ends their art.</summary>
    public bool GoodEnough { get; }

    private static (bool Refine, LevelPanel[] Panels, double Error) Choose(
        VoxelGrid grid, EchoSet echoes, FocusSettings settings, Aperture aperture, double least, double greatest)
    {
        (bool Refine, LevelPanel[] Panels, double Error) best = (false, [], double.PositiveInfinity);
        for (int count = 1; count <= MostPanels; count++)
        {
            LevelPanel[] panels = LevelPanel.Cut(grid, count, least);
            foreach (bool refine in (ReadOnlySpan<bool>)[false, true])
            {
                double error = PathError.Greatest(panels, echoes.Interval, settings, aperture, refine, least, greatest);
                if (error < best.Error)
                    best = (refine, panels, error);
                if (error <= settings.PathTolerance)
                    return best;
            }
        }
        return best;
    }
}
