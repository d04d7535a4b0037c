using Undersand.Imaging.Conditioning;

namespace Undersand.Imaging.Seabed;

/// <summary>The seabed as the survey's lines found it: one common surface, and each line's own offset from it.</summary>
/// <remarks>
/// Each line is imaged under its own seabed (common shape + the line's mis-tie + what is left along its track), so that tide and height errors
/// cancel; the common surface only places the result. Smoothed over <see cref="Smoothing"/>, which is both twice the Fresnel radius that a
/// low-frequency sonar a metre up sees (0.25 m, checks WA-24), so that rays don't refract at ripples they cannot resolve, and the width over which
/// burial is counted. Mis-ties are least-squares differences where lines overlap; a plane through all picks is taken out before smoothing, so that a slope
/// goes on beyond them. See docs/science/seabed.md.
/// </remarks>
public sealed class SeabedModel
{
    /// <summary>Full width at half maximum of the smoothing, metres.</summary>
    public const double Smoothing = 0.5;

    private const double AlongSmoothing = 0.5;
    private const int MostCells = 12_000_000;
    private readonly double[][] _residual;

    /// <summary>From the scans of all lines.</summary>
    /// <param name="scans">The lines.</param>
    /// <param name="west">Bounds of what is to be imaged.</param>
    /// <param name="south">Bounds.</param>
    /// <param name="east">Bounds.</param>
    /// <param name="north">Bounds.</param>
    /// <param name="soundSpeed">Of the water, m/s.</param>
    public SeabedModel(IReadOnlyList<LineScan> scans, double west, double south, double east, double north, double soundSpeed)
    {
        double spacing = 0.1;
        while ((east - west + 2) * (north - south + 2) / (spacing * spacing) > MostCells)
            spacing *= 1.25;
        var grid = new PickGrid(west - 1, south - 1, spacing, (int)Math.Ceiling((east - west + 2) / spacing) + 1, (int)Math.Ceiling((north - south + 2) / spacing) + 1);
        var picks = scans.Select(s => Picks(s, soundSpeed).ToArray()).ToArray();
        MisTies = Seabed.MisTies.Solve(picks, grid);
        var trend = Trend.Of(picks, MisTies);
        for (int i = 0; i < scans.Count; i++)
            foreach (var pick in picks[i])
                if (grid.CellOf(pick.Easting, pick.Northing) is >= 0 and int cell)
                    grid.Add(cell, pick.Depth - MisTies[i] - trend.At(pick.Easting, pick.Northing));
        Common = trend.AddTo(grid.Smooth(Smoothing));
        _residual = scans.Select((s, i) => Residual(s, MisTies[i])).ToArray();
    }

    /// <summary>Depth of the seabed below the water surface, smoothed, with the lines' mis-ties taken out.</summary>
    public Raster Common { get; }

    /// <summary>Per line, how much deeper it found the seabed than all lines together, metres.</summary>
    public IReadOnlyList<double> MisTies { get; }

    /// <summary>How much deeper than the common surface a line has the seabed at one of its pings, metres.</summary>
    public double OffsetAt(int line, int pingIndex) => MisTies[line] + _residual[line][pingIndex];

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
            raw[p] = scan.SeabedDepth[p] - misTie - Common.At(at.Easting, at.Northing);
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
