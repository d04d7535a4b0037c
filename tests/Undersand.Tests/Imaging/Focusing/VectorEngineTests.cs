using Undersand.Imaging.Focusing;
using static Undersand.Tests.Imaging.Focusing.FocusScenes;

namespace Undersand.Tests.Imaging.Focusing;

/// <summary>The fast way against the plain one.</summary>
public class VectorEngineTests
{
    private static readonly VoxelGrid Small = Grid with { CountX = 18, CountY = 10 };

    public static TheoryData<double, double, double, double> Scenes => new()
    {
        { 1.1, 0, 0, 1650 },
        { 0.9, 0.12, -0.07, 1700 },
        { 3.5, -0.05, 0.1, 1650 },
        { 1.0, 0.05, 0.02, 1875 },
        { 1.2, 0.0, 0.1, 1470 },
    };

    // Path times within 10⁻³ sample turn the phase by at most 2π·0.07·10⁻³ = 4.5·10⁻⁴.
    [Theory, MemberData(nameof(Scenes))]
    public void Every_width_gives_the_plain_image_as_far_as_the_path_tolerance_allows_and_the_same_counts(double height, double east, double north, double c2)
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5, east, north);
        EchoSet echoes = Noise(surface, height, 9, 5, 500);
        var settings = new FocusSettings(C1, c2);
        LookSums?[] plain = Focus(EngineKind.Plain, echoes, surface, settings, grid: Small), scalar = Focus(EngineKind.Scalar, echoes, surface, settings, grid: Small);
        foreach (EngineKind kind in (EngineKind[])[EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512])
        {
            LookSums?[] fast = Focus(kind, echoes, surface, settings, grid: Small);
            ImageDifference fromPlain = ImageDifference.Between(plain, fast), fromScalar = ImageDifference.Between(scalar, fast);
            TestContext.Current.SendDiagnosticMessage($"{kind}, height {height}, c2 {c2}: {fromPlain.Relative:e1} from plain, {fromScalar.Relative:e1} from scalar");
            Assert.True(fromPlain.VoxelTraces > 100_000);
            Assert.Equal(0, fromPlain.DifferentCounts);
            Assert.InRange(fromPlain.Relative, 1e-9, 4.5e-4);
            Assert.InRange(fromPlain.RelativeSquares, 0, 4.5e-4);
            Assert.InRange(fromScalar.Relative, 0, 2e-5);
        }
    }

    [Fact]
    public void With_a_tolerance_of_a_ten_thousandth_of_a_sample_the_images_agree_to_2e_minus_5()
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5, 0.05, -0.03);
        EchoSet echoes = Noise(surface, 1.1, 9, 5, 500);
        var settings = new FocusSettings(C1, C2) { PathTolerance = 1e-4 };
        LookSums?[] plain = Focus(EngineKind.Plain, echoes, surface, settings, grid: Small);
        foreach (EngineKind kind in (EngineKind[])[EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512])
            Assert.InRange(ImageDifference.Between(plain, Focus(kind, echoes, surface, settings, grid: Small)).Relative, 1e-9, 2e-5);
    }

    [Fact]
    public void Counts_agree_where_traces_end_inside_the_image()
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5, 0.1, -0.1);
        EchoSet echoes = Noise(surface, 1.1, 7, 4, 170);
        LookSums?[] plain = Focus(EngineKind.Plain, echoes, surface, grid: Small);
        foreach (EngineKind kind in (EngineKind[])[EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512])
        {
            ImageDifference d = ImageDifference.Between(plain, Focus(kind, echoes, surface, grid: Small));
            Assert.Equal(0, d.DifferentCounts);
            Assert.InRange(d.Relative, 0, 4.5e-4);
        }
    }

    // A carrier of 60 kHz turns by 0.39 an interval: records are cut into four.
    [Fact]
    public void A_carrier_that_turns_far_between_samples_is_no_harm()
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        EchoSet low = Noise(surface, 1.1, 5, 4, 500);
        var echoes = new EchoSet(60e3, low.Interval, low.SampleCount, low.TrackAzimuth, low.StartTimes, low.Sources, low.Receivers, low.Samples);
        Assert.Equal(4, TraceRecords.PartsFor(echoes));
        LookSums?[] plain = Focus(EngineKind.Plain, echoes, surface, grid: Small);
        foreach (EngineKind kind in (EngineKind[])[EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512])
            Assert.InRange(ImageDifference.Between(plain, Focus(kind, echoes, surface, grid: Small)).Relative, 0, 2 * Math.PI * 60e3 * low.Interval * 1e-3);
    }

    // More levels than one panel holds, and a number that fills no vector.
    [Fact]
    public void Deep_images_are_cut_into_panels_without_a_seam()
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        EchoSet echoes = Noise(surface, 1.1, 5, 4, 1000);
        VoxelGrid deep = Small with { CountZ = 101, CountX = 9, CountY = 5 };
        LookSums?[] plain = Focus(EngineKind.Plain, echoes, surface, grid: deep);
        foreach (EngineKind kind in (EngineKind[])[EngineKind.Scalar, EngineKind.Wide256, EngineKind.Wide512])
        {
            ImageDifference d = ImageDifference.Between(plain, Focus(kind, echoes, surface, grid: deep));
            Assert.Equal(0, d.DifferentCounts);
            Assert.InRange(d.Relative, 0, 4.5e-4);
        }
    }

    // With no tolerance at all no polynomial will do.
    [Fact]
    public void Where_polynomials_will_not_do_exact_rays_take_over()
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        EchoSet echoes = Noise(surface, 1.1, 3, 2, 300);
        var settings = new FocusSettings(C1, C2) { PathTolerance = 1e-9 };
        LookSums?[] plain = Focus(EngineKind.Plain, echoes, surface, settings, grid: Small), fast = Focus(EngineKind.Wide256, echoes, surface, settings, grid: Small);
        for (int g = 0; g < plain.Length; g++)
            Assert.Equal(plain[g]?.Real, fast[g]?.Real);
    }

    [Fact]
    public void Runs_of_pings_given_one_after_another_are_the_whole_line()
    {
        var surface = new PlaneSurface(Grid.OriginEasting, Grid.OriginNorthing, 5);
        EchoSet all = Noise(surface, 1.1, 8, 3, 400);
        LookSums?[] whole = Focus(EngineKind.Wide256, all, surface, grid: Small), parts = new LookSums?[3];
        foreach ((int from, int to) in ((int, int)[])[(0, 9), (9, 24)])
        {
            var part = new EchoSet(all.Carrier, all.Interval, all.SampleCount, all.TrackAzimuth, all.StartTimes[from..to], all.Sources[from..to], all.Receivers[from..to], all.Samples[(2 * from * all.SampleCount)..(2 * to * all.SampleCount)]);
            Focuser.Focus(Small, new TileIndex(0, 0), part, surface, new FocusSettings(C1, C2), parts, 2, TestContext.Current.CancellationToken);
        }
        ImageDifference d = ImageDifference.Between(whole, parts);
        Assert.Equal(0, d.DifferentCounts);
        // Polynomials are laid for the heights of a run, so the parts' differ from the whole's within the path tolerance.
        Assert.InRange(d.Relative, 0, 4.5e-4);
    }
}
