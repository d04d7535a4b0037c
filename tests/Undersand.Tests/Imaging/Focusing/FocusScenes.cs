using Undersand.Imaging.Focusing;

namespace Undersand.Tests.Imaging.Focusing;

/// <summary>A plane seabed: depth + slopes about a point.</summary>
internal sealed class PlaneSurface(double easting, double northing, double atDepth, double east = 0, double north = 0) : LineSurface
{
    public override void At(double e, double n, out double depth, out double slopeEast, out double slopeNorth)
    {
        depth = atDepth + east * (e - easting) + north * (n - northing);
        (slopeEast, slopeNorth) = (east, north);
    }
}

/// <summary>Small scenes for the focusing tests: one line eastwards over a plane, echoes of points put in by a Fermat minimum over the plane.</summary>
internal static class FocusScenes
{
    public const double C1 = 1500, C2 = 1650, Carrier = 11e3, Bandwidth = 14e3;

    /// <summary>Fine enough for 1 % (of amplitude, at the band's edge) by linear interpolation; the tests say how fine.</summary>
    public const double Interval = 1 / (11 * Bandwidth);

    public static readonly VoxelGrid Grid = new(500_000, 5_761_000, 0.05, 40, 24, 45, 0.05);

    /// <summary>Pings along the middle of the grid, a row of receivers across; every trace at its own height and its own start.</summary>
    public static EchoSet Line(LineSurface surface, double height, int pings, int receivers, int samples, Func<GridPoint, GridPoint, double, (double Re, double Im)> echo, double roughness = 0.05, int seed = 1)
    {
        var random = new Random(seed);
        int traces = pings * receivers;
        double[] starts = new double[traces];
        var sources = new GridPoint[traces];
        var receiverAt = new GridPoint[traces];
        var data = new float[2L * samples * traces];
        double e0 = Grid.EastingAt(0.5 * Grid.CountX), n0 = Grid.NorthingAt(0.5 * Grid.CountY);
        for (int p = 0; p < pings; p++)
        {
            double e = e0 + 0.13 * (p - 0.5 * (pings - 1)), n = n0 + 0.02 * random.NextDouble(), up = height + roughness * (2 * random.NextDouble() - 1);
            GridPoint source = Above(surface, e, n, up);
            for (int r = 0; r < receivers; r++)
            {
                int t = p * receivers + r;
                sources[t] = source;
                receiverAt[t] = Above(surface, e - 0.2, n + 0.09 * (r - 0.5 * (receivers - 1)), up + 0.03 * random.NextDouble());
                starts[t] = 0.9e-3 * height + 1e-5 * random.NextDouble();
                for (int i = 0; i < samples; i++)
                {
                    (double re, double im) = echo(source, receiverAt[t], starts[t] + i * Interval);
                    (data[2 * (t * samples + i)], data[2 * (t * samples + i) + 1]) = ((float)re, (float)im);
                }
            }
        }
        return new EchoSet(Carrier, Interval, samples, Angle.FromDegrees(90), starts, sources, receiverAt, data);
    }

    /// <summary>The baseband echo of a positive point reflector that arrives at <paramref name="arrival"/>, at time t.</summary>
    public static (double Re, double Im) Pulse(double t, double arrival, double amplitude)
    {
        double u = (t - arrival) * Bandwidth, envelope = amplitude * Math.Exp(-2 * u * u), turns = Carrier * arrival;
        return (envelope * Math.Cos(2 * Math.PI * turns), -envelope * Math.Sin(2 * Math.PI * turns));
    }

    /// <summary>Random noise: a value every eighth sample, straight lines between.</summary>
    public static EchoSet Noise(LineSurface surface, double height, int pings, int receivers, int samples, int seed = 7)
    {
        var random = new Random(seed);
        (double Re, double Im) from = (0, 0), to = (0, 0);
        int i = 0;
        return Line(surface, height, pings, receivers, samples, (_, _, _) =>
        {
            if (i++ % 8 == 0)
                (from, to) = (to, (random.NextDouble() - 0.5, random.NextDouble() - 0.5));
            double f = (i - 1) % 8 / 8.0;
            return (from.Re + f * (to.Re - from.Re), from.Im + f * (to.Im - from.Im));
        }, seed: seed);
    }

    /// <summary>The echo of a positive point reflector at a place under the plane.</summary>
    public static Func<GridPoint, GridPoint, double, (double Re, double Im)> PointEcho(GridPoint point, LineSurface surface, double amplitude)
    {
        var times = new Dictionary<GridPoint, double>();
        double Time(GridPoint a) => times.TryGetValue(a, out double t) ? t : times[a] = FermatTime(a, point, surface);
        return (s, r, t) => Pulse(t, Time(s) + Time(r), amplitude);
    }

    /// <summary>The least time from a place in the water through any point of the plane to a buried point: Fermat by nested golden sections, no Snell.</summary>
    public static double FermatTime(GridPoint a, GridPoint b, LineSurface plane, double c1 = C1, double c2 = C2)
    {
        double Time(double e, double n)
        {
            plane.At(e, n, out double depth, out _, out _);
            var crossing = new GridPoint(e, n, depth);
            return a.DistanceTo(crossing) / c1 + crossing.DistanceTo(b) / c2;
        }

        return Least(e => Least(n => Time(e, n), Math.Min(a.Northing, b.Northing) - 1, Math.Max(a.Northing, b.Northing) + 1),
            Math.Min(a.Easting, b.Easting) - 1, Math.Max(a.Easting, b.Easting) + 1);
    }

    public static GridPoint VoxelAt(LineSurface surface, double easting, double northing, double burial)
    {
        surface.At(easting, northing, out double depth, out _, out _);
        return new GridPoint(easting, northing, depth + burial);
    }

    /// <summary>Sums a scene by one of the engines. Wide512 runs emulated where the processor has no AVX-512.</summary>
    public static LookSums?[] Focus(EngineKind kind, EchoSet echoes, LineSurface surface, FocusSettings? settings = null, int threads = 2, VoxelGrid? grid = null)
    {
        settings = (settings ?? new FocusSettings(C1, C2)) with { Engine = kind == EngineKind.Plain ? FocusEngine.Plain : FocusEngine.Vector };
        var sums = new LookSums?[settings.Groups];
        VectorPath path = kind switch { EngineKind.Wide512 => VectorPath.Wide512, EngineKind.Wide256 => VectorPath.Wide256, _ => VectorPath.Scalar };
        Focuser.Focus(grid ?? Grid, new TileIndex(0, 0), echoes, surface, settings, sums, threads, path, TestContext.Current.CancellationToken);
        return sums;
    }

    private static GridPoint Above(LineSurface surface, double e, double n, double height)
    {
        surface.At(e, n, out double depth, out _, out _);
        return new GridPoint(e, n, depth - height);
    }

    private static double Least(Func<double, double> f, double low, double high)
    {
        const double Golden = 0.6180339887498949;
        double a = high - Golden * (high - low), b = low + Golden * (high - low), fa = f(a), fb = f(b);
        while (high - low > 1e-5)
        {
            if (fa < fb)
                (high, b, fb, a, fa) = (b, a, fa, b - Golden * (b - low), f(b - Golden * (b - low)));
            else
                (low, a, fa, b, fb) = (a, b, fb, a + Golden * (high - a), f(a + Golden * (high - a)));
        }
        return Math.Min(fa, fb);
    }
}
