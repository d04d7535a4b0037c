namespace Undersand.Simulation;

/// <summary>The seabed of a scene on two rasters: as it is, for its own echo, and smoothed, for the rays that cross it.</summary>
/// <remarks>
/// Rays through ripples shorter than a Fresnel zone are fiction: the crossing surface is the seabed under a Gaussian of
/// <see cref="SmoothingSd"/>, as wide as a disc of 0.25 m radius. Burials count from it too. It is kept as a quadratic B-spline, so that
/// its slope is continuous. Coordinates inside are relative to an origin, so that large northings cost no digits.
/// </remarks>
internal sealed class Seafloor
{
    /// <summary>Metres between facets of the seabed's own echo.</summary>
    public const double FacetSpacing = 0.03;
    /// <summary>Standard deviation of the smoothing, metres.</summary>
    public const double SmoothingSd = 0.125;
    private const int SmoothStep = 2;
    private const double SmoothSpacing = FacetSpacing * SmoothStep;

    private readonly SeabedShape _shape;
    private readonly double[] _smooth;
    private readonly int _smoothX, _smoothY;

    /// <summary>Makes both rasters.</summary>
    /// <param name="shape">The seabed.</param>
    /// <param name="region">What to cover.</param>
    /// <param name="seed">Of the roughness.</param>
    public Seafloor(SeabedShape shape, Region region, int seed)
    {
        _shape = shape;
        Region = region;
        CountX = 2 + (int)Math.Ceiling((region.MaxEasting - region.MinEasting) / FacetSpacing);
        CountY = 2 + (int)Math.Ceiling((region.MaxNorthing - region.MinNorthing) / FacetSpacing);
        Depths = new double[CountX * CountY];
        for (int y = 0; y < CountY; y++)
            for (int x = 0; x < CountX; x++)
                Depths[y * CountX + x] = DepthWithoutRoughness(region.MinEasting + x * FacetSpacing, region.MinNorthing + y * FacetSpacing);
        if (shape.Roughness is { StandardDeviation: > 0 } roughness)
            RoughSurface.Add(roughness, Depths, CountX, FacetSpacing, seed);
        (_smooth, _smoothX, _smoothY) = Smooth(Depths, CountX, CountY);
    }

    /// <summary>What is covered.</summary>
    public Region Region { get; }

    /// <summary>Columns of <see cref="Depths"/>.</summary>
    public int CountX { get; }

    /// <summary>Rows of <see cref="Depths"/>.</summary>
    public int CountY { get; }

    /// <summary>Depth of the seabed as it is, row by row from the south-west corner of the region.</summary>
    public double[] Depths { get; }

    /// <summary>Depth of plane and bumps alone: what a vehicle follows.</summary>
    public double TrendAt(double easting, double northing)
    {
        double e = easting - _shape.Easting, n = northing - _shape.Northing;
        double z = _shape.Depth + _shape.SlopeEast * e + _shape.SlopeNorth * n;
        foreach (Bump b in _shape.Bumps)
        {
            double dx = easting - b.Easting, dy = northing - b.Northing;
            z -= b.Height * Math.Exp(-0.5 * (dx * dx + dy * dy) / (b.Radius * b.Radius));
        }
        return z;
    }

    /// <summary>Depth of the plane alone.</summary>
    public double PlaneAt(double easting, double northing) =>
        _shape.Depth + _shape.SlopeEast * (easting - _shape.Easting) + _shape.SlopeNorth * (northing - _shape.Northing);

    /// <summary>Depth of a wavy surface over a plane.</summary>
    public static double Waves(IReadOnlyList<Ripple> ripples, double e, double n)
    {
        double z = 0;
        foreach (Ripple r in ripples)
        {
            double along = e * Math.Sin(r.Azimuth.Radians) + n * Math.Cos(r.Azimuth.Radians);
            z -= 0.5 * r.Height * Math.Cos(2 * Math.PI * along / r.Wavelength + r.Phase.Radians);
        }
        return z;
    }

    /// <summary>Depth of the smoothed seabed.</summary>
    public double SmoothedAt(double easting, double northing) => SurfaceAt(easting, northing).Depth;

    /// <summary>The smoothed seabed with its slopes and curvatures; its edge goes on beyond the region.</summary>
    public SurfacePoint SurfaceAt(double easting, double northing)
    {
        double x = (easting - Region.MinEasting) / SmoothSpacing, y = (northing - Region.MinNorthing) / SmoothSpacing;
        int ix = Math.Clamp((int)Math.Floor(x + 0.5), 1, _smoothX - 2), iy = Math.Clamp((int)Math.Floor(y + 0.5), 1, _smoothY - 2);
        double u = Math.Clamp(x - ix, -0.5, 0.5), v = Math.Clamp(y - iy, -0.5, 0.5);
        double ax = 0.5 * (0.5 - u) * (0.5 - u), cx = 0.5 * (0.5 + u) * (0.5 + u), bx = 1 - ax - cx;
        double ay = 0.5 * (0.5 - v) * (0.5 - v), cy = 0.5 * (0.5 + v) * (0.5 + v), by = 1 - ay - cy;
        double dax = u - 0.5, dcx = u + 0.5, dbx = -2 * u, day = v - 0.5, dcy = v + 0.5, dby = -2 * v;
        ReadOnlySpan<double> s = _smooth;
        int at = (iy - 1) * _smoothX + ix - 1;
        double s00 = s[at], s01 = s[at + 1], s02 = s[at + 2];
        at += _smoothX;
        double s10 = s[at], s11 = s[at + 1], s12 = s[at + 2];
        at += _smoothX;
        double s20 = s[at], s21 = s[at + 1], s22 = s[at + 2];
        double r0 = ax * s00 + bx * s01 + cx * s02, r1 = ax * s10 + bx * s11 + cx * s12, r2 = ax * s20 + bx * s21 + cx * s22;
        double d0 = dax * s00 + dbx * s01 + dcx * s02, d1 = dax * s10 + dbx * s11 + dcx * s12, d2 = dax * s20 + dbx * s21 + dcx * s22;
        double e0 = s00 - 2 * s01 + s02, e1 = s10 - 2 * s11 + s12, e2 = s20 - 2 * s21 + s22;
        const double g = 1 / SmoothSpacing, gg = g * g;
        return new SurfacePoint(ay * r0 + by * r1 + cy * r2,
            (ay * d0 + by * d1 + cy * d2) * g, (day * r0 + dby * r1 + dcy * r2) * g,
            (ay * e0 + by * e1 + cy * e2) * gg, (r0 - 2 * r1 + r2) * gg, (day * d0 + dby * d1 + dcy * d2) * gg);
    }

    private double DepthWithoutRoughness(double easting, double northing) =>
        TrendAt(easting, northing) + Waves(_shape.Ripples, easting - _shape.Easting, northing - _shape.Northing);

    private static (double[], int, int) Smooth(double[] depths, int countX, int countY)
    {
        // A quadratic B-spline through its control points widens by a quarter of its spacing squared; the Gaussian does the rest.
        double sd = Math.Sqrt(SmoothingSd * SmoothingSd - SmoothSpacing * SmoothSpacing / 4) / FacetSpacing;
        int half = (int)Math.Ceiling(4 * sd);
        double[] weights = [.. Enumerable.Range(-half, 2 * half + 1).Select(i => Math.Exp(-0.5 * i * i / (sd * sd)))];
        double total = weights.Sum();
        int nx = (countX + SmoothStep - 1) / SmoothStep, ny = (countY + SmoothStep - 1) / SmoothStep;
        double[] rows = new double[nx * countY], smooth = new double[nx * ny];
        for (int y = 0; y < countY; y++)
            for (int x = 0; x < nx; x++)
                rows[y * nx + x] = Extended(depths.AsSpan(y * countX, countX), x * SmoothStep, weights, half) / total;
        double[] column = new double[countY];
        for (int x = 0; x < nx; x++)
        {
            for (int y = 0; y < countY; y++)
                column[y] = rows[y * nx + x];
            for (int y = 0; y < ny; y++)
                smooth[y * nx + x] = Extended(column, y * SmoothStep, weights, half) / total;
        }
        return (smooth, nx, ny);
    }

    /// <summary>A weighted sum about a place; beyond the ends the row goes on as its mirror through the end point, so that a slope stays a slope.</summary>
    private static double Extended(ReadOnlySpan<double> row, int centre, double[] weights, int half)
    {
        double sum = 0;
        int last = row.Length - 1;
        for (int k = -half; k <= half; k++)
        {
            int i = centre + k;
            double value = i < 0 ? 2 * row[0] - row[Math.Min(-i, last)] : i > last ? 2 * row[last] - row[Math.Max(2 * last - i, 0)] : row[i];
            sum += weights[k + half] * value;
        }
        return sum;
    }
}

/// <summary>Depth, slopes and curvatures of a surface, towards east and north.</summary>
internal readonly record struct SurfacePoint(double Depth, double SlopeEast, double SlopeNorth, double CurvatureEast, double CurvatureNorth, double Twist);

/// <summary>A rectangle.</summary>
internal readonly record struct Region(double MinEasting, double MaxEasting, double MinNorthing, double MaxNorthing)
{
    public Region Grown(double by) => new(MinEasting - by, MaxEasting + by, MinNorthing - by, MaxNorthing + by);

    public double Area => (MaxEasting - MinEasting) * (MaxNorthing - MinNorthing);
}
