namespace Undersand.Imaging.Seabed;

/// <summary>Gathers seabed picks on a grid and makes a smooth surface of them.</summary>
internal sealed class PickGrid
{
    // Parts of the weight that picks in every cell would have, which comes down to half at a swath's edge. Down to the one, the picks about a place settle the surface; below the other they only
    // bend the trend, the less the farther they are: the pull takes half where they lie 0.7 m off.
    private const double Settling = 1.0 / 6, Bending = 1.0 / 12, Pull = 1.0 / 6000;

    // In standard deviations of the smoothing.
    private const double Reach = 4;

    private readonly double _easting, _northing;
    private readonly Lazy<(double[] Sums, double[] Counts)> _picks;

    /// <summary>Empty.</summary>
    public PickGrid(double originEasting, double originNorthing, double spacing, int countX, int countY)
    {
        _easting = originEasting;
        _northing = originNorthing;
        Spacing = spacing;
        CountX = countX;
        CountY = countY;
        _picks = new(() => (new double[countX * countY], new double[countX * countY]));
    }

    public double Spacing { get; }
    public int CountX { get; }
    public int CountY { get; }

    /// <summary>The cell of a place, or −1 outside.</summary>
    public int CellOf(double easting, double northing)
    {
        int x = (int)Math.Round((easting - _easting) / Spacing), y = (int)Math.Round((northing - _northing) / Spacing);
        return x < 0 || y < 0 || x >= CountX || y >= CountY ? -1 : y * CountX + x;
    }

    /// <summary>Adds a pick.</summary>
    public void Add(int cell, double depth)
    {
        _picks.Value.Sums[cell] += depth;
        _picks.Value.Counts[cell]++;
    }

    /// <summary>
    /// The surface: at each place the plane through the picks about it, weighted by a Gaussian of this full width at half maximum (local linear regression; Cleveland 1979, J. Am. Stat. Assoc. 74, 829–836, from memory).
    /// Where there are too few, the trend and what picks nearby differ from it; where there are none, the trend.
    /// </summary>
    public Raster Smooth(double width, LocalTrend trend, ParallelOptions parallel)
    {
        double sigma = width / 2.3548 / Spacing, full = 2 * Math.PI * sigma * sigma;
        int reach = Math.Max(1, (int)Math.Ceiling(Reach * sigma));
        double[] kernel = [.. Enumerable.Range(-reach, 2 * reach + 1).Select(k => Math.Exp(-0.5 * k * k / (sigma * sigma)))];
        var (depths, rests) = _picks.Value;
        // A cell counts once however many picks it has: dense tracks must not pull their neighbours. From here on NaN is none.
        Parallel.For(0, CountY, parallel, y =>
        {
            for (int i = y * CountX, x = 0; x < CountX; i++, x++)
            {
                depths[i] /= rests[i];
                rests[i] = depths[i] - (double.IsNaN(depths[i]) ? 0 : trend.At(_easting + x * Spacing, _northing + y * Spacing));
            }
        });
        var values = new float[CountX * CountY];
        Parallel.For(0, CountY, parallel, () => new Rows(CountX), (y, _, rows) =>
        {
            Gather(rows, y, kernel, depths, rests);
            for (int x = 0; x < CountX; x++)
                values[y * CountX + x] = (float)DepthAt(rows, x, y, kernel, full, trend);
            return rows;
        }, _ => { });
        return new Raster(_easting, _northing, Spacing, CountX, CountY, values);
    }

    // Sums over the rows about one, column by column: of cells that have picks, of their depths, and of how these differ from the trend, by powers of the way north.
    private void Gather(Rows rows, int y, double[] kernel, double[] depths, double[] rests)
    {
        rows.Clear();
        int reach = kernel.Length / 2;
        for (int j = Math.Max(y - reach, 0); j <= Math.Min(y + reach, CountY - 1); j++)
        {
            double weight = kernel[j - y + reach], way = (j - y) * Spacing;
            for (int i = j * CountX, x = 0; x < CountX; i++, x++)
            {
                if (double.IsNaN(depths[i]))
                    continue;
                rows.Cells[x] += weight;
                rows.CellsNorth[x] += weight * way;
                rows.CellsNorthNorth[x] += weight * way * way;
                rows.Depths[x] += weight * depths[i];
                rows.DepthsNorth[x] += weight * depths[i] * way;
                rows.Rests[x] += weight * rests[i];
            }
        }
    }

    private double DepthAt(Rows rows, int x, int y, double[] kernel, double full, LocalTrend trend)
    {
        int reach = kernel.Length / 2;
        var sum = default(Moments);
        double rest = 0;
        for (int i = Math.Max(x - reach, 0); i <= Math.Min(x + reach, CountX - 1); i++)
        {
            if (rows.Cells[i] == 0)
                continue;
            double weight = kernel[i - x + reach], east = (i - x) * Spacing;
            sum += new Moments(rows.Cells[i], 0, rows.CellsNorth[i], rows.Depths[i], 0, 0, rows.CellsNorthNorth[i], 0, rows.DepthsNorth[i]).Moved(east, 0, weight);
            rest += weight * rows.Rests[i];
        }
        double share = Math.Clamp((sum.Count / full - Bending) / (Settling - Bending), 0, 1), settled = share > 0 ? sum.Plane().Depth : 0;
        return share == 1 ? settled : share * settled + (1 - share) * (trend.At(_easting + x * Spacing, _northing + y * Spacing) + rest / (sum.Count + Pull * full));
    }

    private sealed class Rows(int count)
    {
        public readonly double[] Cells = new double[count], CellsNorth = new double[count], CellsNorthNorth = new double[count], Depths = new double[count], DepthsNorth = new double[count], Rests = new double[count];

        public void Clear()
        {
            foreach (double[] row in (double[][])[Cells, CellsNorth, CellsNorthNorth, Depths, DepthsNorth, Rests])
                Array.Clear(row);
        }
    }
}
