namespace Undersand.Runs.Processing;

/// <summary>Cuts targets' surroundings out of the volume: root mean square over the lines of their amplitude, in dB re each target's peak.</summary>
internal static class TargetViews
{
    private const double Reach = 1.25, PlanHalfHeight = 0.15;

    /// <summary>Cuts them, reading each tile once.</summary>
    public static IReadOnlyList<TargetView> Cut(IVolume volume, IEnumerable<Target> targets, Parallelism threads, IProgressSink progress, CancellationToken cancellation)
    {
        int side = 2 * (int)Math.Ceiling(Reach / volume.Grid.Spacing) + 1;
        var windows = targets.Select(t => (Target: t, Window: new Window(volume.Grid, t, side))).ToList();
        var tiles = windows.SelectMany(w => w.Window.Tiles()).Distinct().ToList();
        progress.Begin("Cutting out the targets", tiles.Count, "tiles");
        threads.For(tiles.Count, i =>
        {
            var over = windows.Select(w => w.Window).Where(w => w.Tiles().Contains(tiles[i])).ToList();
            foreach (int line in volume.Looks.Select(l => l.Line).Distinct())
                if (LookSums.OfLine(volume, tiles[i], line) is { } sums)
                    over.ForEach(w => w.Add(tiles[i], sums));
            progress.Advance();
        }, cancellation);
        return [.. windows.Select(w => View(volume.Grid, w.Target, w.Window, side))];
    }

    private static TargetView View(VoxelGrid grid, Target target, Window window, int side)
    {
        float[] energy = window.Energy();
        int reach = side / 2;
        int levels = grid.CountZ, top = Math.Clamp((int)Math.Round((target.BurialDepth.Value - grid.FirstBurial) / grid.Spacing), 0, levels - 1), thick = (int)Math.Round(PlanHalfHeight / grid.Spacing);
        double peak = 0;
        for (int y = Math.Max(0, reach - 4); y <= Math.Min(side - 1, reach + 4); y++)
            for (int x = Math.Max(0, reach - 4); x <= Math.Min(side - 1, reach + 4); x++)
                for (int z = Math.Max(0, top - 1); z <= Math.Min(levels - 1, top + 2 * thick); z++)
                    if (energy[(y * side + x) * levels + z] is var e && e > peak)
                        peak = e;
        float Db(float value) => float.IsNaN(value) ? float.NaN : (float)(10 * Math.Log10(Math.Max(value, 1e-12 * peak) / peak));

        var plan = new float[side * side];
        for (int i = 0; i < plan.Length; i++)
        {
            float most = float.NaN;
            for (int z = Math.Max(0, top - thick); z <= Math.Min(levels - 1, top + thick); z++)
                most = float.IsNaN(most) ? energy[i * levels + z] : Math.Max(most, energy[i * levels + z]);
            plan[i] = Db(most);
        }
        var eastWest = new float[side * levels];
        var southNorth = new float[side * levels];
        for (int i = 0; i < side; i++)
            for (int z = 0; z < levels; z++)
            {
                eastWest[i * levels + z] = Db(energy[(reach * side + i) * levels + z]);
                southNorth[i * levels + z] = Db(energy[(i * side + reach) * levels + z]);
            }
        double west = grid.EastingAt(window.X), south = grid.NorthingAt(window.Y);
        return new TargetView(target.Id,
            new Raster(west, south, grid.Spacing, side, side, plan),
            new Section("easting, m", west, grid.Spacing, side, grid.FirstBurial, grid.Spacing, levels, eastWest),
            new Section("northing, m", south, grid.Spacing, side, grid.FirstBurial, grid.Spacing, levels, southNorth));
    }

    /// <summary>Columns around a target, and what the lines saw there: two tiles never add to the same.</summary>
    private sealed class Window(VoxelGrid grid, Target target, int side)
    {
        private readonly float[] _sum = new float[side * side * grid.CountZ];
        private readonly int[] _lines = new int[side * side * grid.CountZ];

        public int X { get; } = (int)Math.Round((target.Position.Easting - grid.OriginEasting) / grid.Spacing) - side / 2;

        public int Y { get; } = (int)Math.Round((target.Position.Northing - grid.OriginNorthing) / grid.Spacing) - side / 2;

        public IEnumerable<TileIndex> Tiles()
        {
            const int size = VoxelGrid.TileSize;
            for (int y = Math.Max(0, Y) / size; y <= Math.Min(grid.CountY - 1, Y + side - 1) / size; y++)
                for (int x = Math.Max(0, X) / size; x <= Math.Min(grid.CountX - 1, X + side - 1) / size; x++)
                    yield return new TileIndex(x, y);
        }

        public void Add(TileIndex tile, LookSums line)
        {
            const int size = VoxelGrid.TileSize;
            for (int y = Math.Max(Y, tile.Y * size); y < Math.Min(Y + side, (tile.Y + 1) * size); y++)
                for (int x = Math.Max(X, tile.X * size); x < Math.Min(X + side, (tile.X + 1) * size); x++)
                    Add(line, line.ColumnStart(x - tile.X * size, y - tile.Y * size), ((y - Y) * side + x - X) * grid.CountZ);
        }

        /// <summary>Mean over the lines that saw a voxel of the squared amplitude; NaN where none did.</summary>
        public float[] Energy() => [.. _sum.Zip(_lines, (sum, lines) => lines > 0 ? sum / lines : float.NaN)];

        private void Add(LookSums line, int from, int to)
        {
            for (int z = 0; z < grid.CountZ; z++)
            {
                float re = line.Real[from + z], im = line.Imaginary[from + z], n = line.Traces[from + z];
                if (n == 0)
                    continue;
                _sum[to + z] += (re * re + im * im) / (n * n);
                _lines[to + z]++;
            }
        }
    }
}
