namespace Undersand.Imaging.Focusing;

/// <summary>Coherent summation of one line's traces into the voxels of a tile.</summary>
/// <remarks>
/// Per voxel and group, over the traces whose two legs are inside the aperture: Σ w·s·e^{iφ}, Σ w²·|s|² and the number of traces with w above 0, where s is
/// the baseband sample at the path time (linear between samples), φ = 2π·carrier·time, and w the taper of <see cref="FocusSettings"/>.
/// Time: exact refraction at the column's seabed plane, both legs. Derivation, error bounds and limits: docs/science/focusing.md.
/// A voxel belongs to one thread, which takes the traces in order: the same bits for any number of threads.
/// </remarks>
public static class Focuser
{
    /// <summary>How wide the vector engine works on this machine: a bit of the sums may depend on it, so a run writes it down.</summary>
    public static string VectorKind => VectorPaths.Best switch { VectorPath.Wide512 => "512 bits", VectorPath.Wide256 => "256 bits", _ => "scalar" };

    /// <summary>Adds the traces to a tile's sums. Calls for successive runs of pings add up; the same bits need the same runs in the same order.</summary>
    /// <param name="grid">Where the voxels are. Level k lies at burial <see cref="VoxelGrid.BurialAt"/>(k) vertically below the line's surface.</param>
    /// <param name="tile">Which tile.</param>
    /// <param name="echoes">The traces of one line.</param>
    /// <param name="surface">The line's seabed.</param>
    /// <param name="settings">Sound speeds, aperture, groups, engine.</param>
    /// <param name="intoGroups">One place a group; null ones are made when something is to be added, and stay null otherwise.</param>
    /// <param name="degreeOfParallelism">Threads to use, at least 1.</param>
    /// <param name="cancellation">Stops the work; the sums are then of no use.</param>
    /// <returns>Per group, whether anything was added.</returns>
    public static bool[] Focus(
        VoxelGrid grid, TileIndex tile, EchoSet echoes, LineSurface surface, FocusSettings settings,
        LookSums?[] intoGroups, int degreeOfParallelism, CancellationToken cancellation) =>
        Focus(grid, tile, echoes, surface, settings, intoGroups, degreeOfParallelism, VectorPaths.Best, cancellation);

    /// <summary>The same with the vector engine as wide as told, for tests and benches.</summary>
    internal static bool[] Focus(
        VoxelGrid grid, TileIndex tile, EchoSet echoes, LineSurface surface, FocusSettings settings,
        LookSums?[] intoGroups, int degreeOfParallelism, VectorPath path, CancellationToken cancellation)
    {
        Check(grid, tile, settings, intoGroups, degreeOfParallelism);
        var columns = new TileColumns(grid, tile, surface);
        var added = new bool[settings.Groups];
        if (!columns.AnyValid || echoes.TraceCount == 0)
            return added;
        var aperture = new Aperture(settings, grid);
        LookSums[] sums = [.. intoGroups.Select(s => s ?? new LookSums(grid.CountZ))];
        var options = new ParallelOptions { MaxDegreeOfParallelism = degreeOfParallelism, CancellationToken = cancellation };
        if (settings.Engine == FocusEngine.Plain || !new VectorEngine(grid, columns, echoes, settings, aperture, path).TryFocus(sums, added, options))
            Plain(new PlainEngine(grid, columns, echoes, settings, aperture), sums, added, options);
        for (int group = 0; group < settings.Groups; group++)
            if (added[group])
                intoGroups[group] = sums[group];
        return added;
    }

    private static void Plain(PlainEngine engine, LookSums[] sums, bool[] added, ParallelOptions options) =>
        Parallel.For(0, TileColumns.Count / 8, options, i =>
        {
            var mine = new bool[added.Length];
            engine.Focus(8 * i, sums, mine);
            for (int group = 0; group < added.Length; group++)
                if (mine[group])
                    Volatile.Write(ref added[group], true);
        });

    private static void Check(VoxelGrid grid, TileIndex tile, FocusSettings settings, LookSums?[] intoGroups, int degreeOfParallelism)
    {
        if (tile.X < 0 || tile.X >= grid.TilesX || tile.Y < 0 || tile.Y >= grid.TilesY)
            throw new ArgumentOutOfRangeException(nameof(tile), tile, $"the grid has {grid.TilesX} × {grid.TilesY} tiles");
        if (grid.CountZ < 1 || grid.FirstBurial < 0 || !(grid.Spacing > 0))
            throw new ArgumentOutOfRangeException(nameof(grid), grid, "a grid has at least one level, none above the seabed, and a spacing above 0 m");
        if (settings.Groups < 1 || intoGroups.Length != settings.Groups)
            throw new ArgumentException($"{settings.Groups} groups need as many places for their sums, not {intoGroups.Length}", nameof(intoGroups));
        foreach (LookSums? sums in intoGroups)
            if (sums != null && sums.Levels != grid.CountZ)
                throw new ArgumentException($"sums of {sums.Levels} levels don't fit a grid of {grid.CountZ}", nameof(intoGroups));
        ArgumentOutOfRangeException.ThrowIfLessThan(degreeOfParallelism, 1);
    }
}
