namespace Undersand.Runs.Processing;

/// <summary>Cuts a target's surroundings out of the volume: root mean square over the lines of their amplitude, in dB re the target's peak.</summary>
internal static class TargetViews
{
    private const double Reach = 1.25, PlanHalfHeight = 0.15;

    public static TargetView Cut(IVolume volume, Target target)
    {
        var grid = volume.Grid;
        int reach = (int)Math.Ceiling(Reach / grid.Spacing), side = 2 * reach + 1;
        int cx = (int)Math.Round((target.Position.Easting - grid.OriginEasting) / grid.Spacing), cy = (int)Math.Round((target.Position.Northing - grid.OriginNorthing) / grid.Spacing);
        var energy = Energy(volume, cx - reach, cy - reach, side);
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
        double west = grid.EastingAt(cx - reach), south = grid.NorthingAt(cy - reach);
        return new TargetView(target.Id,
            new Raster(west, south, grid.Spacing, side, side, plan),
            new Section("easting, m", west, grid.Spacing, side, grid.FirstBurial, grid.Spacing, levels, eastWest),
            new Section("northing, m", south, grid.Spacing, side, grid.FirstBurial, grid.Spacing, levels, southNorth));
    }

    /// <summary>Mean over the lines that saw a voxel of the squared amplitude; NaN where none did.</summary>
    private static float[] Energy(IVolume volume, int x0, int y0, int side)
    {
        var grid = volume.Grid;
        int levels = grid.CountZ, size = VoxelGrid.TileSize;
        var energy = new float[side * side * levels];
        var lines = new int[energy.Length];
        for (int ty = Math.Max(0, y0) / size; ty <= Math.Min(grid.CountY - 1, y0 + side - 1) / size; ty++)
            for (int tx = Math.Max(0, x0) / size; tx <= Math.Min(grid.CountX - 1, x0 + side - 1) / size; tx++)
                foreach (var looks in volume.Looks.GroupBy(l => l.Line))
                {
                    var sums = looks.Select(l => volume.Read(new TileIndex(tx, ty), l.Index)).OfType<LookSums>().ToList();
                    if (sums.Count == 0)
                        continue;
                    for (int y = Math.Max(y0, ty * size); y < Math.Min(y0 + side, (ty + 1) * size); y++)
                        for (int x = Math.Max(x0, tx * size); x < Math.Min(x0 + side, (tx + 1) * size); x++)
                            Add(sums, sums[0].ColumnStart(x - tx * size, y - ty * size), ((y - y0) * side + x - x0) * levels, levels);
                }
        for (int i = 0; i < energy.Length; i++)
            energy[i] = lines[i] > 0 ? energy[i] / lines[i] : float.NaN;
        return energy;

        void Add(List<LookSums> sums, int from, int to, int count)
        {
            for (int z = 0; z < count; z++)
            {
                float re = 0, im = 0;
                int n = 0;
                foreach (var s in sums)
                    (re, im, n) = (re + s.Real[from + z], im + s.Imaginary[from + z], n + s.Traces[from + z]);
                if (n == 0)
                    continue;
                energy[to + z] += (re * re + im * im) / ((float)n * n);
                lines[to + z]++;
            }
        }
    }
}
