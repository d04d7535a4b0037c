using Undersand.Simulation;

namespace Undersand.Bench.Quality;

/// <summary>How far a thing stands above what is around it in the image.</summary>
internal static class Contrast
{
    public static double OverClutter(IVolume volume, TrueObject thing)
    {
        var grid = volume.Grid;
        int cx = (int)Math.Round((thing.Centre.Easting - grid.OriginEasting) / grid.Spacing), cy = (int)Math.Round((thing.Centre.Northing - grid.OriginNorthing) / grid.Spacing);
        int cz = (int)Math.Round((thing.BurialOfTop - grid.FirstBurial) / grid.Spacing), reach = (int)(1.5 / grid.Spacing);
        double own = 0, other = 0;
        for (int y = cy - reach; y <= cy + reach; y++)
            for (int x = cx - reach; x <= cx + reach; x++)
            {
                double off = grid.Spacing * Math.Sqrt((x - cx) * (x - cx) + (y - cy) * (y - cy));
                double energy = GreatestEnergy(volume, x, y, cz - 4, cz + 5);
                if (off < 0.2 + 0.5 * thing.Length)
                    own = Math.Max(own, energy);
                else if (off > 0.4 + 0.5 * thing.Length && off < 1.5)
                    other = Math.Max(other, energy);
            }
        return 10 * Math.Log10(own / other);
    }

    /// <summary>Greatest over some levels of a column of the lines' mean energy.</summary>
    private static double GreatestEnergy(IVolume volume, int x, int y, int from, int to)
    {
        var grid = volume.Grid;
        if (x < 0 || y < 0 || x >= grid.CountX || y >= grid.CountY)
            return 0;
        var tile = new TileIndex(x / VoxelGrid.TileSize, y / VoxelGrid.TileSize);
        double greatest = 0;
        for (int z = Math.Max(from, 0); z <= Math.Min(to, grid.CountZ - 1); z++)
        {
            double energy = 0;
            int lines = 0;
            foreach (var line in volume.Looks.GroupBy(l => l.Line))
            {
                double re = 0, im = 0;
                int n = 0;
                foreach (var look in line)
                    if (volume.Read(tile, look.Index) is { } sums)
                    {
                        int at = sums.ColumnStart(x % VoxelGrid.TileSize, y % VoxelGrid.TileSize) + z;
                        (re, im, n) = (re + sums.Real[at], im + sums.Imaginary[at], n + sums.Traces[at]);
                    }
                if (n > 0)
                    (energy, lines) = (energy + (re * re + im * im) / ((double)n * n), lines + 1);
            }
            if (lines > 0)
                greatest = Math.Max(greatest, energy / lines);
        }
        return greatest;
    }
}
