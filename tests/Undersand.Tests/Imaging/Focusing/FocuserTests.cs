using Undersand.Imaging.Focusing;
using static Undersand.Tests.Imaging.Focusing.FocusScenes;

namespace Undersand.Tests.Imaging.Focusing;

public class FocuserTests
{
    public static TheoryData<FocusEngine> Engines => [FocusEngine.Plain];

    [Theory, MemberData(nameof(Engines))]
    public void A_point_echo_adds_up_at_its_voxel_with_phase_zero_and_its_amplitude(FocusEngine engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        (int ix, int iy, int iz) = (20, 12, 13);
        GridPoint voxel = VoxelAt(surface, Grid.EastingAt(ix), Grid.NorthingAt(iy), Grid.BurialAt(iz));
        const double Amplitude = 0.7;
        EchoSet echoes = Line(surface, 1.1, 21, 5, 400, (s, r, t) => Pulse(t, Time(s, voxel, surface) + Time(r, voxel, surface), Amplitude));
        LookSums?[] sums = Focus(echoes, surface, Settings(engine));

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

    private static readonly Dictionary<(GridPoint, GridPoint), double> Times = [];

    private static double Time(GridPoint a, GridPoint b, LineSurface plane)
    {
        lock (Times)
            return Times.TryGetValue((a, b), out double t) ? t : Times[(a, b)] = FermatTime(a, b, plane);
    }
}
