using Undersand.Imaging.Focusing;
using static Undersand.Tests.Imaging.Focusing.FocusScenes;

namespace Undersand.Tests.Imaging.Focusing;

/// <summary>What every engine must do.</summary>
public class FocuserTests
{
    public static TheoryData<EngineKind> Engines => [EngineKind.Plain, EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512];

    // A slope of 0.15 is 8.5°; the echo's times come from a Fermat minimum over the plane, not from Snell.
    [Theory, MemberData(nameof(Engines))]
    public void A_point_echo_adds_up_at_its_voxel_with_phase_zero_and_its_amplitude(EngineKind engine)
    {
        foreach ((double east, double north) in ((double, double)[])[(0, 0), (0.1, -0.15)])
        {
            var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5, east, north);
            (int ix, int iy, int iz) = (20, 12, 13);
            GridPoint voxel = VoxelAt(surface, Grid.EastingAt(ix), Grid.NorthingAt(iy), Grid.BurialAt(iz));
            const double Amplitude = 0.7;
            LookSums?[] sums = Focus(engine, Line(surface, 1.1, 17, 3, 300, PointEcho(voxel, surface, Amplitude)), surface);

            int i = sums[1]!.ColumnStart(ix, iy) + iz;
            double re = Total(sums, s => s.Real[i]), im = Total(sums, s => s.Imaginary[i]), squares = Total(sums, s => s.SumOfSquares[i]);
            double traces = Total(sums, s => s.Traces[i]);
            Assert.True(traces > 15, $"{traces} traces");
            Assert.Equal(0, Math.Atan2(im, re), 0.005);
            // Each trace adds w·A and w²·A² with 0 < w ≤ 1: the sum lies between the squares' sum and the count, less the 1 % of interpolation.
            Assert.InRange(re, 0.99 * squares / Amplitude, traces * Amplitude);
            Assert.InRange(squares, 0.6 * traces * Amplitude * Amplitude, traces * Amplitude * Amplitude);
            Assert.Equal(i, Brightest(sums[1]!));
        }
    }

    [Theory, MemberData(nameof(Engines))]
    public void One_thread_and_two_give_the_same_bits(EngineKind engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5, 0.05, 0.1);
        EchoSet echoes = Noise(surface, 1.1, 5, 3, 400);
        LookSums?[] one = Focus(engine, echoes, surface, threads: 1), two = Focus(engine, echoes, surface, threads: 2);
        for (int g = 0; g < one.Length; g++)
        {
            Assert.Equal(one[g]!.Real, two[g]!.Real);
            Assert.Equal(one[g]!.Imaginary, two[g]!.Imaginary);
            Assert.Equal(one[g]!.SumOfSquares, two[g]!.SumOfSquares);
            Assert.Equal(one[g]!.Traces, two[g]!.Traces);
        }
    }

    // ⟨focus(s), x⟩ = ⟨s, forward(x)⟩ for any traces s and image x; the forward operator is written in ForwardModel, by exact rays.
    [Theory, MemberData(nameof(Engines))]
    public void Focusing_is_the_adjoint_of_the_forward_model(EngineKind engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        EchoSet echoes = Noise(surface, 1.0, 7, 3, 400);
        var settings = new FocusSettings(C1, C2);
        LookSums?[] image = Focus(engine, echoes, surface, settings);
        var random = new Random(11);
        double left = 0, right = 0, energy = 0;
        var model = new ForwardModel(echoes, Grid, 5, settings);
        for (int n = 0; n < 40; n++)
        {
            (int ix, int iy, int iz) = (random.Next(Grid.CountX), random.Next(Grid.CountY), random.Next(Grid.CountZ));
            (double re, double im) = (random.NextDouble() - 0.5, random.NextDouble() - 0.5);
            int i = image[0]!.ColumnStart(ix, iy) + iz;
            left += re * Total(image, s => s.Real[i]) + im * Total(image, s => s.Imaginary[i]);
            right += model.Project(ix, iy, iz, re, im);
            energy += Total(image, s => s.SumOfSquares[i]);
        }
        Assert.True(energy > 1);
        Assert.Equal(right, left, 2e-3 * Math.Sqrt(energy));
    }

    [Theory, MemberData(nameof(Engines))]
    public void Shifting_the_sea_shifts_the_image(EngineKind engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5, 0.05, 0.1);
        EchoSet here = Noise(surface, 1.1, 5, 3, 400);
        GridPoint Move(GridPoint p) => new(p.Easting - 131.4, p.Northing + 57.3, p.Depth + 3.7);
        var there = new EchoSet(here.Carrier, here.Interval, here.SampleCount, here.TrackAzimuth, here.StartTimes, [.. here.Sources.Select(Move)], [.. here.Receivers.Select(Move)], here.Samples);
        VoxelGrid grid = Grid with { OriginEasting = Grid.OriginEasting - 131.4, OriginNorthing = Grid.OriginNorthing + 57.3 };
        var moved = new PlaneSurface(grid.OriginEasting, grid.OriginNorthing, 8.7, 0.05, 0.1);
        ImageDifference d = ImageDifference.Between(Focus(engine, here, surface), Focus(engine, there, moved, grid: grid));
        Assert.True(d.VoxelTraces > 100_000);
        // Easting − origin rounds at 6·10⁻¹¹ m; a voxel just at the aperture's edge may fall on the other side.
        Assert.InRange(d.Relative, 0, 1e-4);
        Assert.InRange(d.DifferentCounts, 0, 3);
    }

    [Theory, MemberData(nameof(Engines))]
    public void A_trace_that_ends_early_counts_only_where_it_still_is(EngineKind engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        LookSums?[] whole = Focus(engine, Noise(surface, 1.1, 5, 2, 500), surface), cut = Focus(engine, Noise(surface, 1.1, 5, 2, 220), surface);
        int column = whole[1]!.ColumnStart(20, 12);
        int[] all = [.. Enumerable.Range(column, Grid.CountZ).Select(i => (int)Total(whole, s => s.Traces[i]))];
        int[] some = [.. Enumerable.Range(column, Grid.CountZ).Select(i => (int)Total(cut, s => s.Traces[i]))];
        Assert.Equal(all[..6], some[..6]);
        Assert.Equal(0, some[^1]);
        Assert.True(all[^1] > 5);
        Assert.All(all.Zip(some), p => Assert.True(p.Second <= p.First));
    }

    [Theory, MemberData(nameof(Engines))]
    public void Groups_are_disjoint_and_together_the_whole(EngineKind engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        EchoSet echoes = Noise(surface, 1.1, 17, 2, 500);
        LookSums?[] three = Focus(engine, echoes, surface), one = Focus(engine, echoes, surface, new FocusSettings(C1, C2) { Groups = 1 });
        for (int i = 0; i < one[0]!.Real.Length; i++)
            Assert.Equal(one[0]!.Traces[i], Total(three, s => s.Traces[i]));
        int middle = one[0]!.ColumnStart(20, 12) + 20;
        Assert.All(three, s => Assert.True(s!.Traces[middle] > 0));
        Assert.Equal(one[0]!.Real[middle], Total(three, s => s.Real[middle]), 1e-4);
        // The line runs east and no further west than the grid: its westernmost column has nothing astern.
        int west = one[0]!.ColumnStart(0, 12) + 20;
        Assert.Equal(0, three[0]!.Traces[west]);
        Assert.True(three[2]!.Traces[west] > 0);
    }

    [Theory, MemberData(nameof(Engines))]
    public void Where_the_line_has_no_seabed_nothing_is_imaged(EngineKind engine)
    {
        var depths = new float[21 * 21];
        Array.Fill(depths, 5f);
        Array.Fill(depths, float.NaN, 0, 21 * 3);
        var surface = new RasterSurface(new Raster(Grid.OriginEasting, Grid.OriginNorthing, 0.1, 21, 21, depths));
        LookSums?[] sums = Focus(engine, Noise(new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5), 1.1, 5, 2, 400), surface);
        Assert.Equal(0, Total(sums, s => s.Traces.AsSpan(s.ColumnStart(20, 2), Grid.CountZ).ToArray().Sum()));
        Assert.True(Total(sums, s => s.Traces.AsSpan(s.ColumnStart(20, 12), Grid.CountZ).ToArray().Sum()) > 0);
        Assert.All(sums, s => Assert.All(s!.Real, x => Assert.True(float.IsFinite(x))));
    }

    [Theory, MemberData(nameof(Engines))]
    public void A_line_out_of_reach_adds_nothing_and_makes_no_sums(EngineKind engine)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        EchoSet echoes = Noise(surface, 1.1, 3, 2, 100);
        Assert.All(Focus(engine, echoes, surface, grid: Grid with { OriginEasting = Grid.OriginEasting + 100 }), Assert.Null);
    }

    private static double Total(LookSums?[] sums, Func<LookSums, double> of) => sums.Sum(s => s == null ? 0 : of(s));

    private static int Brightest(LookSums sums)
    {
        int best = 0;
        for (int i = 0; i < sums.Real.Length; i++)
            if (double.Hypot(sums.Real[i], sums.Imaginary[i]) > double.Hypot(sums.Real[best], sums.Imaginary[best]))
                best = i;
        return best;
    }
}
