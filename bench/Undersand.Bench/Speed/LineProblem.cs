using Undersand.Imaging.Focusing;

namespace Undersand.Bench.Speed;

/// <summary>A line as surveys have it: a vehicle that heaves about a metre over a rippled slope, rolled, so that heights and slopes differ for every trace and column.</summary>
internal sealed class LineProblem
{
    private const int Receivers = 24, Pings = 110, Samples = 1200;
    private const double C1 = 1500, C2 = 1650, Carrier = 11e3, Bandwidth = 14e3;

    public LineProblem()
    {
        var random = new Random(5);
        Surface = new RasterSurface(Seabed());
        int traces = Receivers * Pings;
        var starts = new double[traces];
        var sources = new GridPoint[traces];
        var receivers = new GridPoint[traces];
        var samples = new float[2 * traces * Samples];
        for (int p = 0; p < Pings; p++)
        {
            double e = -3.9 + 0.1 * p, n = 1.6 + 0.1 * Math.Sin(0.05 * p), height = 1 + 0.08 * Math.Sin(0.2 * p), roll = 0.05 * Math.Sin(0.13 * p);
            Surface.At(e, n, out double depth, out _, out _);
            var source = new GridPoint(e, n, depth - height);
            for (int r = 0; r < Receivers; r++)
            {
                double across = 0.05 * (r - 11.5);
                (starts[p * Receivers + r], sources[p * Receivers + r]) = (1.0e-3, source);
                receivers[p * Receivers + r] = new GridPoint(e - 0.3, n + across, depth - height + across * roll);
            }
        }
        for (int i = 0; i < samples.Length; i++)
            samples[i] = (float)(random.NextDouble() - 0.5);
        Echoes = new EchoSet(Carrier, 1 / (12 * Bandwidth), Samples, Angle.FromDegrees(90), starts, sources, receivers, samples);
    }

    public EchoSet Echoes { get; }

    public RasterSurface Surface { get; }

    public static FocusSettings Settings => new(C1, C2);

    /// <summary>A tile, or the part of it that the plain version gets through in time.</summary>
    public static VoxelGrid Grid(int columns) => new(0, 0, 0.05, columns, columns, 60, 0.05);

    /// <summary>A slope of 3° with ripples of 0.8 m and ±2 cm.</summary>
    private static Raster Seabed()
    {
        const int Count = 320;
        const double Spacing = 0.05;
        var depths = new float[Count * Count];
        for (int i = 0; i < depths.Length; i++)
        {
            double e = -6 + Spacing * (i % Count), n = -6 + Spacing * (i / Count);
            depths[i] = (float)(6 + 0.05 * e + 0.02 * Math.Sin(2 * Math.PI * (0.8 * e + 0.6 * n) / 0.8));
        }
        return new Raster(-6, -6, Spacing, Count, Count, depths);
    }
}
