namespace Undersand.Simulation;

/// <summary>The seabed's own echo: the Kirchhoff integral over the facets of the surface as it is.</summary>
/// <remarks>
/// Each facet reflects like its tangent plane: p = R/(4π) ∬ [(cosθ₁ + cosθ₂)/c ∂/∂t + cosθ₁/r₁ + cosθ₂/r₂] s(t − (r₁+r₂)/c) / (r₁r₂) dS,
/// which for a flat surface is R times the image of the source. The second pair of terms, about 1/kr of the first, is taken at the
/// height of the mean surface. Facets are 3 cm apart, finer than half a wavelength at 25 kHz, so the sum folds nothing; shadows and second
/// bounces are left out; the sum fades over the outer part of its reach, where a hard edge would answer.
/// </remarks>
internal sealed class SeabedEcho
{
    private readonly Seafloor _seafloor;
    private readonly FermatPath _path;
    private readonly double _c;
    private readonly BeamGain? _beam;
    private double[] _e = [], _n = [], _d = [], _ne = [], _nn = [], _time = [], _weight = [], _cosine = [];
    private int _count;
    private double _floorDepth;

    public SeabedEcho(Seafloor seafloor, FermatPath path, double soundSpeed, BeamGain? beam) => (_seafloor, _path, _c, _beam) = (seafloor, path, soundSpeed, beam);

    /// <summary>c over the height of the mean path, for the near field, 1/s.</summary>
    public double Near { get; private set; }

    /// <summary>How far from the source facets are summed, metres.</summary>
    public static double ReachFor(double height) => 1.0 + 1.3 * height;

    /// <summary>Collects the facets within reach of a source.</summary>
    public void Prepare(GridPoint source, double lastTime)
    {
        _floorDepth = _seafloor.TrendAt(source.Easting, source.Northing);
        double height = Math.Max(_floorDepth - source.Depth, 0.05), reach = ReachFor(height), fade = 0.55 * reach;
        Near = _c / height;
        const double step = Seafloor.FacetSpacing;
        double x0 = source.Easting - _seafloor.Region.MinEasting, y0 = source.Northing - _seafloor.Region.MinNorthing;
        int fromX = Math.Max(1, (int)((x0 - reach) / step)), toX = Math.Min(_seafloor.CountX - 2, (int)((x0 + reach) / step) + 1);
        int fromY = Math.Max(1, (int)((y0 - reach) / step)), toY = Math.Min(_seafloor.CountY - 2, (int)((y0 + reach) / step) + 1);
        Grow(Math.Max(0, toX - fromX + 1) * Math.Max(0, toY - fromY + 1));
        _count = 0;
        double[] depths = _seafloor.Depths;
        for (int y = fromY; y <= toY; y++)
            for (int x = fromX; x <= toX; x++)
            {
                double e = x * step - x0, n = y * step - y0, distance = Math.Sqrt(e * e + n * n);
                if (distance >= reach)
                    continue;
                int at = y * _seafloor.CountX + x;
                double d = depths[at] - source.Depth, r = Math.Sqrt(distance * distance + d * d);
                if (2 * r / _c > lastTime + 2e-3)
                    continue;
                double ne = (depths[at + 1] - depths[at - 1]) * (0.5 / step), nn = (depths[at + _seafloor.CountX] - depths[at - _seafloor.CountX]) * (0.5 / step);
                double taper = distance < fade ? 1 : 0.5 + 0.5 * Math.Cos(Math.PI * (distance - fade) / (reach - fade));
                int i = _count++;
                (_e[i], _n[i], _d[i], _ne[i], _nn[i]) = (e, n, d, ne, nn);
                _time[i] = r / _c;
                _cosine[i] = (d - ne * e - nn * n) / r;
                _weight[i] = taper * step * step / (4 * Math.PI * _c * r) * (_beam?.At(d / r) ?? 1);
            }
    }

    /// <summary>Adds the echo at a receiver.</summary>
    public void Add(GridPoint source, GridPoint receiver, TimeGrid grid, TraceBuilder trace)
    {
        double re = receiver.Easting - source.Easting, rn = receiver.Northing - source.Northing, rd = receiver.Depth - source.Depth;
        double halfBase = 0.5 * Math.Sqrt(re * re + rn * rn), h = Math.Max(_floorDepth - 0.5 * (source.Depth + receiver.Depth), 0.05);
        double R = _path.Reflection(h / Math.Sqrt(h * h + halfBase * halfBase));
        float[] fine = trace.SeabedGrid();
        for (int i = 0; i < _count; i++)
        {
            double e = _e[i] - re, n = _n[i] - rn, d = _d[i] - rd, r = Math.Sqrt(e * e + n * n + d * d), inverse = 1 / r;
            double cosines = _cosine[i] + (d - _ne[i] * e - _nn[i] * n) * inverse;
            double gain = _beam is null ? 1 : _beam.At(d * inverse);
            grid.Spread(fine, _time[i] + r / _c, R * gain * _weight[i] * cosines * inverse);
        }
    }

    private void Grow(int n)
    {
        if (_e.Length >= n)
            return;
        (_e, _n, _d, _ne) = (new double[n], new double[n], new double[n], new double[n]);
        (_nn, _time, _weight, _cosine) = (new double[n], new double[n], new double[n], new double[n]);
    }
}
