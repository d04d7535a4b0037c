namespace Undersand.Imaging.Seabed;

/// <summary>How the seabed lies around each place at large: planes through the picks some metres about, one going over into the next. So a slope goes on where there are no picks.</summary>
/// <remarks>
/// Picks are summed in blocks of a metre that lie at whole metres of the reference system, and a plane's are those of the blocks within its reach, the less weighted the farther off. Picks beyond change
/// nothing, to the last bit: what was imaged elsewhere stays as it is when a line is added.
/// </remarks>
internal sealed class LocalTrend
{
    /// <summary>Edge of a block, metres.</summary>
    public const double Block = 1;

    private readonly double _west, _south;
    private readonly int _countX, _countY;
    private readonly (double Depth, double SlopeEast, double SlopeNorth)[] _planes;

    /// <summary>Of picks, their lines' offsets taken out.</summary>
    /// <param name="west">Whole metres, as <paramref name="south"/>; no pick lies outside of the grid from there on.</param>
    /// <param name="south">See there.</param>
    /// <param name="countX">Blocks eastwards.</param>
    /// <param name="countY">Blocks northwards.</param>
    /// <param name="reach">Blocks around a plane's own that tell of it.</param>
    /// <param name="picks">By line. Where none is within reach, the plane through the first line's goes on.</param>
    /// <param name="offsets">By line, metres.</param>
    /// <param name="parallel">Threads; the result does not depend on them.</param>
    public LocalTrend(double west, double south, int countX, int countY, int reach, GridPoint[][] picks, double[] offsets, ParallelOptions parallel)
    {
        (_west, _south, _countX, _countY) = (west, south, countX, countY);
        var blocks = new Moments[countX * countY];
        for (int line = 0; line < picks.Length; line++)
            foreach (var pick in picks[line])
                if (Index((pick.Easting - west) / Block, countX) is >= 0 and int x && Index((pick.Northing - south) / Block, countY) is >= 0 and int y)
                    blocks[y * countX + x] += Moments.Of(pick.Easting - Middle(west, x), pick.Northing - Middle(south, y), pick.Depth - offsets[line]);
        GridPoint origin = picks.SelectMany(p => p).FirstOrDefault();
        var (index, line1) = picks.Index().FirstOrDefault(p => p.Item.Length > 0, (0, []));
        Moments first = line1.Aggregate(default(Moments), (sum, p) => sum + Moments.Of(p.Easting - origin.Easting, p.Northing - origin.Northing, p.Depth - offsets[index]));
        _planes = new (double, double, double)[blocks.Length];
        Parallel.For(0, countY, parallel, y =>
        {
            for (int x = 0; x < countX; x++)
                _planes[y * countX + x] = Around(blocks, x, y, reach) is { Count: > 0 } near ? near.Plane()
                    : first.Moved(origin.Easting - Middle(west, x), origin.Northing - Middle(south, y), 1) is { Count: > 0 } far ? far.Plane() : default;
        });
    }

    /// <summary>The depth at a place.</summary>
    public double At(double easting, double northing)
    {
        double x = Math.Clamp((easting - _west) / Block - 0.5, 0, _countX - 1), y = Math.Clamp((northing - _south) / Block - 0.5, 0, _countY - 1);
        int ix = Math.Min((int)x, Math.Max(_countX - 2, 0)), iy = Math.Min((int)y, Math.Max(_countY - 2, 0)), right = Math.Min(ix + 1, _countX - 1), up = Math.Min(iy + 1, _countY - 1);
        double fx = x - ix, fy = y - iy;
        return (Plane(ix, iy, easting, northing) * (1 - fx) + Plane(right, iy, easting, northing) * fx) * (1 - fy) + (Plane(ix, up, easting, northing) * (1 - fx) + Plane(right, up, easting, northing) * fx) * fy;
    }

    private Moments Around(Moments[] blocks, int x, int y, int reach)
    {
        var sum = default(Moments);
        for (int j = Math.Max(y - reach, 0); j <= Math.Min(y + reach, _countY - 1); j++)
            for (int i = Math.Max(x - reach, 0); i <= Math.Min(x + reach, _countX - 1); i++)
                if (blocks[j * _countX + i] is { Count: > 0 } near)
                    sum += near.Moved((i - x) * Block, (j - y) * Block, (1 - Math.Abs(i - x) / (reach + 1.0)) * (1 - Math.Abs(j - y) / (reach + 1.0)));
        return sum;
    }

    private double Plane(int x, int y, double easting, double northing)
    {
        var (depth, slopeEast, slopeNorth) = _planes[y * _countX + x];
        return depth + slopeEast * (easting - Middle(_west, x)) + slopeNorth * (northing - Middle(_south, y));
    }

    private static double Middle(double origin, int index) => origin + (index + 0.5) * Block;

    private static int Index(double place, int count) => place >= 0 && place < count ? (int)place : -1;
}
