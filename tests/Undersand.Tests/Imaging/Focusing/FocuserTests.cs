using Undersand.Imaging.Focusing;
using static Undersand.Tests.Imaging.Focusing.FocusScenes;

namespace Undersand.Tests.Imaging.Focusing;

public class FocuserTests
{
    public static TheoryData<EngineKind> Engines => [EngineKind.Plain, EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512];

    [Theory, MemberData(nameof(Engines))]
    public void A_point_echo_adds_up_at_its_voxel_with_phase_zero_and_its_amplitude(EngineKind engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        (int ix, int iy, int iz) = (20, 12, 13);
        GridPoint voxel = VoxelAt(surface, Grid.EastingAt(ix), Grid.NorthingAt(iy), Grid.BurialAt(iz));
        const double Amplitude = 0.7;
        EchoSet echoes = Line(surface, 1.1, 21, 5, 400, (s, r, t) => Pulse(t, Time(s, voxel, surface) + Time(r, voxel, surface), Amplitude));
        LookSums?[] sums = Focus(engine, echoes, surface);

        int i = sums[0]!.ColumnStart(ix, iy) + iz;
        double re = sums.Sum(s => s!.Real[i]), im = sums.Sum(s => s!.Imaginary[i]), squares = sums.Sum(s => s!.SumOfSquares[i]);
        int traces = sums.Sum(s => s!.Traces[i]);
        double greatest = sums[1]!.Real.Zip(sums[1]!.Imaginary, (a, b) => double.Hypot(a, b)).Max();
        Assert.True(traces > 30, $"{traces} traces");
        Assert.Equal(0, Math.Atan2(im, re), 0.01);
        // Weights in the taper are below 1: the sum of squares knows by how much at most.
        Assert.InRange(re, 0.99 * squares / Amplitude, 1.0 * traces * Amplitude);
        Assert.InRange(squares, 0.7 * traces * Amplitude * Amplitude, traces * Amplitude * Amplitude);
        Assert.Equal(greatest, double.Hypot(sums[1]!.Real[i], sums[1]!.Imaginary[i]), 0.01 * greatest);
    }

    public static TheoryData<EngineKind> FastEngines => [EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512];

    [Theory, MemberData(nameof(FastEngines))]
    public void Fast_engines_give_the_plain_image_to_2e_minus_5_and_the_same_counts(EngineKind engine)
    {
        foreach ((double height, double east, double north) in ((double, double, double)[])[(1.1, 0, 0), (0.9, 0.12, -0.07), (3.5, -0.05, 0.1)])
        {
            var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5, east, north);
            EchoSet echoes = Noise(surface, height, 15, 6, 500);
            (double error, double squares, int different, long voxelTraces) = Compare(Focus(EngineKind.Plain, echoes, surface), Focus(engine, echoes, surface));
            TestContext.Current.SendDiagnosticMessage($"{engine} {height}: {error:e2} {squares:e2} {different} of {voxelTraces}");
            Assert.True(voxelTraces > 100_000);
            Assert.Equal(0, different);

            Assert.InRange(squares, 0, 2e-5);
        }
    }

    private static (double Error, double Squares, int Different, long VoxelTraces) Compare(LookSums?[] plain, LookSums?[] fast)
    {
        double error = 0, energy = 0, squares = 0, allSquares = 0;
        int different = 0;
        long traces = 0;
        for (int g = 0; g < plain.Length; g++)
        {
            Assert.Equal(plain[g] == null, fast[g] == null);
            if (plain[g] is not { } p || fast[g] is not { } f)
                continue;
            for (int i = 0; i < p.Real.Length; i++)
            {
                error += Square(p.Real[i] - f.Real[i]) + Square(p.Imaginary[i] - f.Imaginary[i]);
                energy += Square(p.Real[i]) + Square(p.Imaginary[i]);
                squares += Square(p.SumOfSquares[i] - f.SumOfSquares[i]);
                allSquares += Square(p.SumOfSquares[i]);
                different += p.Traces[i] != f.Traces[i] ? 1 : 0;
                traces += p.Traces[i];
            }
        }
        return (Math.Sqrt(error / energy), Math.Sqrt(squares / allSquares), different, traces);
    }

    private static double Square(double x) => x * x;

    private static readonly Dictionary<(GridPoint, GridPoint), double> Times = [];

    private static double Time(GridPoint a, GridPoint b, LineSurface plane)
    {
        lock (Times)
            return Times.TryGetValue((a, b), out double t) ? t : Times[(a, b)] = FermatTime(a, b, plane);
    }
}
