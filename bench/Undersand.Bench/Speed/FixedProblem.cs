using Undersand.Imaging.Focusing;

namespace Undersand.Bench.Speed;

/// <summary>The fixed problem of ../shared/bench/problem.h: 24 receivers, 240 pings, a tile of 96 × 96 × 64; the same numbers to the last bit where C and C# agree on sin and cos.</summary>
internal sealed class FixedProblem
{
    public const int Receivers = 24, Pings = 240, Samples = 2048, Traces = Receivers * Pings, CountX = 96, CountY = 96, Levels = 64;
    public const double Rate = 100e3, Carrier = 10e3, Start = 0.002, Altitude = 3.5, C1 = 1500, C2 = 1650, Spacing = 0.05, First = -2.375, FirstBurial = 0.05;
    public const float ApertureSquared = 9.0f;
    public const long VoxelTraces = 1_489_418_432;

    private uint _state = 12345;

    public FixedProblem()
    {
        for (int p = 0; p < Pings; p++)
        {
            double x = -6.0 + 0.05 * p + 0.01 * Next(), y = 0.05 * Next();
            (SourceX[p], SourceY[p]) = ((float)x, (float)y);
            for (int r = 0; r < Receivers; r++)
                (ReceiverX[p * Receivers + r], ReceiverY[p * Receivers + r]) = ((float)(x - 0.3), (float)(y + (r - 11.5) * 0.05));
        }
        var targets = new double[8, 3];
        for (int i = 0; i < 8; i++)
            (targets[i, 0], targets[i, 1], targets[i, 2]) = (2.0 * Next(), 2.0 * Next(), 1.6 + 1.2 * Next());
        for (int t = 0; t < Traces; t++)
        {
            AddNoise(t);
            for (int g = 0; g < 8; g++)
                AddEcho(t, targets[g, 0], targets[g, 1], targets[g, 2]);
        }
    }

    public float[] SourceX { get; } = new float[Pings];

    public float[] SourceY { get; } = new float[Pings];

    public float[] ReceiverX { get; } = new float[Traces];

    public float[] ReceiverY { get; } = new float[Traces];

    public float[] Echoes { get; } = new float[2 * Traces * Samples];

    public static float ColumnAt(int i) => (float)(First + Spacing * i);

    /// <summary>The problem's traces with the seabed at depth 0.</summary>
    public EchoSet ToEchoSet()
    {
        var starts = new double[Traces];
        var sources = new GridPoint[Traces];
        var receivers = new GridPoint[Traces];
        for (int t = 0; t < Traces; t++)
        {
            starts[t] = Start;
            sources[t] = new GridPoint(SourceX[t / Receivers], SourceY[t / Receivers], -Altitude);
            receivers[t] = new GridPoint(ReceiverX[t], ReceiverY[t], -Altitude);
        }
        return new EchoSet(Carrier, 1 / Rate, Samples, Angle.FromDegrees(90), starts, sources, receivers, Echoes);
    }

    /// <summary>Snell by bisection on the ray parameter, as the problem has it.</summary>
    private static double RayTime(double o, double z)
    {
        double low = 0, high = 1.0 / C2 * (1 - 1e-12);
        for (int i = 0; i < 60; i++)
        {
            double mid = 0.5 * (low + high), w = mid * C1, s = mid * C2;
            if (Altitude * w / Math.Sqrt(1 - w * w) + z * s / Math.Sqrt(1 - s * s) < o)
                low = mid;
            else
                high = mid;
        }
        double p = 0.5 * (low + high), sw = p * C1, ss = p * C2;
        return Altitude / (C1 * Math.Sqrt(1 - sw * sw)) + z / (C2 * Math.Sqrt(1 - ss * ss));
    }

    private double Next()
    {
        _state = unchecked(_state * 1664525u + 1013904223u);
        return (_state >> 8) * (1.0 / 16777216.0) * 2.0 - 1.0;
    }

    /// <summary>A random value every eighth sample, straight lines between.</summary>
    private void AddNoise(int t)
    {
        double a0 = Next(), a1 = Next(), b0 = Next(), b1 = Next();
        for (int i = 0; i < Samples; i++)
        {
            if (i > 0 && i % 8 == 0)
                (a0, a1, b0, b1) = (b0, b1, Next(), Next());
            double f = i % 8 / 8.0;
            int at = 2 * (t * Samples + i);
            Echoes[at] = (float)(0.1 * (a0 + f * (b0 - a0)));
            Echoes[at + 1] = (float)(0.1 * (a1 + f * (b1 - a1)));
        }
    }

    private void AddEcho(int t, double x, double y, double z)
    {
        const double Sigma = 0.25 / 8e3;
        double time = RayTime(double.Hypot(x - SourceX[t / Receivers], y - SourceY[t / Receivers]), z) + RayTime(double.Hypot(x - ReceiverX[t], y - ReceiverY[t]), z);
        int centre = (int)((time - Start) * Rate);
        (double sin, double cos) = Math.SinCos(-2 * Math.PI * Carrier * time);
        for (int i = Math.Max(0, centre - 20); i <= Math.Min(Samples - 1, centre + 20); i++)
        {
            double u = (i / Rate + Start - time) / Sigma, e = Math.Exp(-0.5 * u * u);
            Echoes[2 * (t * Samples + i)] += (float)(e * cos);
            Echoes[2 * (t * Samples + i) + 1] += (float)(e * sin);
        }
    }
}
