using Undersand.Imaging.Conditioning;

namespace Undersand.Imaging.Seabed;

/// <summary>The seabed as the survey's lines found it: one common surface, and each line's own offset from it.</summary>
/// <remarks>
/// Each line is imaged under its own seabed (common shape + the line's mis-tie + what is left along its track), so that tide and height errors
/// cancel; the common surface only places the result. Smoothed over <see cref="Smoothing"/>, which is both twice the Fresnel radius that a
/// low-frequency sonar a metre up sees (0.25 m, checks WA-24), so that rays don't refract at ripples they cannot resolve, and the width over which
/// burial is counted. Mis-ties are least-squares differences where lines overlap; planes through the picks some metres about take over where they are few, so that a slope
/// goes on beyond them. All that tiles are imaged by is told by picks some metres about alone, to the last bit, and amid them by those within a metre. See docs/science/seabed.md.
/// </remarks>
public sealed class SeabedModel
{
    /// <summary>Full width at half maximum of the smoothing, metres.</summary>
    public const double Smoothing = 0.5;

    private const double AlongSmoothing = 0.5, LeastReach = 4, LeastSpacing = 0.125;
    private const int MostCells = 12_000_000;
    private readonly double[][] _residual;
    private readonly MisTies _misTies;

    /// <summary>From the scans of all lines.</summary>
    /// <param name="scans">The lines.</param>
    /// <param name="west">Bounds of what is to be imaged.</param>
    /// <param name="south">Bounds.</param>
    /// <param name="east">Bounds.</param>
    /// <param name="north">Bounds.</param>
    /// <param name="sight">How far from its track a line images, metres.</param>
    /// <param name="soundSpeed">Of the water, m/s.</param>
    /// <param name="parallel">Threads; the result does not depend on them.</param>
    public SeabedModel(IReadOnlyList<LineScan> scans, double west, double south, double east, double north, double sight, double soundSpeed, ParallelOptions parallel)
    {
        // Origin and spacing are sums of powers of two: places in the grid are exact, wherever it begins.
        (west, south) = (Math.Floor(west - 1), Math.Floor(south - 1));
        int metresEast = (int)Math.Ceiling(east + 1 - west), metresNorth = (int)Math.Ceiling(north + 1 - south);
        double spacing = LeastSpacing, reach = LeastReach;
        while (metresEast * (double)metresNorth / (spacing * spacing) > MostCells)
            spacing *= 2;
        while (reach < sight)
            reach *= 2;
        var picks = scans.Select(s => Picks(s, soundSpeed).ToArray()).ToArray();
        _misTies = Seabed.MisTies.Of(picks, Empty());
        Common = Surface(_misTies.Offsets);
        Shape = Surface(_misTies.Steps);
        _residual = scans.Select((s, i) => Residual(s, _misTies.Steps[i])).ToArray();

        PickGrid Empty() => new(west, south, spacing, (int)Math.Ceiling(metresEast / spacing) + 1, (int)Math.Ceiling(metresNorth / spacing) + 1);

        Raster Surface(double[] offsets)
        {
            var grid = Empty();
            var trend = new LocalTrend(west, south, metresEast, metresNorth, (int)(reach / LocalTrend.Block), picks, offsets, parallel);
            for (int i = 0; i < picks.Length; i++)
                foreach (var pick in picks[i])
                    if (grid.CellOf(pick.Easting, pick.Northing) is >= 0 and int cell)
                        grid.Add(cell, pick.Depth - offsets[i]);
            return grid.Smooth(Smoothing, trend, parallel);
        }
    }

    /// <summary>Depth of the seabed below the water surface, smoothed, with the lines' mis-ties taken out.</summary>
    public Raster Common { get; }

    /// <summary>The same as lines are imaged by: up to each one's <see cref="OffsetAt"/>, and so as the first of those that hang together has it.</summary>
    public Raster Shape { get; }

    /// <summary>Per line, how much deeper it found the seabed than all lines together, metres.</summary>
    public IReadOnlyList<double> MisTies => _misTies.Offsets;

    /// <summary>How much deeper than <see cref="Shape"/> a line has the seabed at one of its pings, metres.</summary>
    public double OffsetAt(int line, int pingIndex) => _misTies.Steps[line] + _residual[line][pingIndex];

    private static IEnumerable<GridPoint> Picks(LineScan scan, double soundSpeed)
    {
        for (int p = 0; p < scan.SeabedDepth.Length; p++)
        {
            if (double.IsNaN(scan.SeabedDepth[p]) || scan.Bridged.Contains(p))
                continue;
            var ping = scan.Reader.Line.PingAt(p);
            for (int r = 0; r < ping.Receivers.Count; r++)
            {
                double depth = SeabedGeometry.DepthFor(ping.Source, ping.Receivers[r].Position, scan.SeabedTimes[p * scan.Receivers + r], soundSpeed);
                if (!double.IsNaN(depth) && scan.States[p * scan.Receivers + r] == TraceState.Good)
                    yield return SeabedGeometry.ReflectionPoint(ping.Source, ping.Receivers[r].Position, depth);
            }
        }
    }

    private double[] Residual(LineScan scan, double misTie)
    {
        int n = scan.SeabedDepth.Length;
        var raw = new double[n];
        for (int p = 0; p < n; p++)
        {
            var at = scan.Reader.Line.PingAt(p).Source;
            raw[p] = scan.SeabedDepth[p] - misTie - Shape.At(at.Easting, at.Northing);
        }
        var smooth = new double[n];
        double sigma = AlongSmoothing / 2.3548;
        for (int p = 0; p < n; p++)
        {
            double sum = 0, weight = 0;
            for (int direction = -1; direction <= 1; direction += 2)
                for (int q = direction < 0 ? p : p + 1; q >= 0 && q < n && Math.Abs(scan.Along[q] - scan.Along[p]) < 3 * sigma; q += direction)
                {
                    if (double.IsNaN(raw[q]))
                        continue;
                    double z = (scan.Along[q] - scan.Along[p]) / sigma, w = Math.Exp(-0.5 * z * z);
                    (sum, weight) = (sum + w * raw[q], weight + w);
                }
            smooth[p] = weight > 0 ? sum / weight : 0;
        }
        return smooth;
    }
}
