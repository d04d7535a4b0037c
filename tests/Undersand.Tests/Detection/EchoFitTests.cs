using System.Numerics;
using Undersand.Acoustics;
using Undersand.Detection;
using Undersand.Imaging;
using Undersand.Signal;
using Undersand.Simulation;
using Undersand.Tests.Simulation;
using static Undersand.Tests.Imaging.LineScenes;

namespace Undersand.Tests.Detection;

public sealed class EchoFitTests
{
    private static readonly Survey s_survey = new() { Name = "s", Epsg = 32631, Water = new Water(1500), Sediment = new Sediment(1650, 1950, 0.48) };
    private static readonly PulseSpectrum s_pulse = new(4000, 18_000, f => 0.5 - 0.5 * Math.Cos(2 * Math.PI * (f - 4000) / 14_000));

    [Theory]
    [InlineData("rigid", 0.2, 0.5)]
    [InlineData("iron, cast", 0.15, 0.4)]
    [InlineData("granite", 0.2, 0.35)]
    [InlineData("limestone", 0.12, 0.5)]
    public void The_top_of_a_ball_is_found_within_1_5_cm_through_the_whole_chain(string stuff, double diameter, double burial)
    {
        var top = TopOf(stuff, diameter, burial);
        Assert.Equal(burial, top.Value, 0.015);
        Assert.InRange(top.StandardDeviation, 0.008, 0.06);
    }

    /// <summary>One line hears a granite ball of 15 cm as one clean echo that begins 5 cm too deep: as a ball that doesn't ring would sound there.</summary>
    [Fact]
    public void Where_two_bodies_sound_alike_the_spread_of_the_top_says_so()
    {
        var top = TopOf("granite", 0.15, 0.6);
        Assert.InRange(top.StandardDeviation, 0.02, 0.08);
        Assert.InRange(Math.Abs(top.Value - 0.6), 0, 2 * top.StandardDeviation);
    }

    private static Estimate TopOf(string stuff, double diameter, double burial)
    {
        BuriedSphere ball = stuff == "rigid"
            ? new(stuff, East + 3, North + 0.1, burial, Material.Other, Sphere.Rigid(0.5 * diameter))
            : SceneParts.Ball(stuff, East + 3, North + 0.1, burial, diameter, stuff);
        var (survey, line) = Simulate(Plan(6, Row(6, 0.8), noise: 0.02), SmallScenes.Empty() with { Objects = [ball] });
        var imager = Image(survey with { Image = new ImageSettings(1.2, 0.05) }, Scan(survey, line));
        var cancel = TestContext.Current.CancellationToken;
        var detector = new Detector(survey, imager.ImageAll(cancel), imager, new DetectionSettings { DegreeOfParallelism = 2 });
        detector.LearnNull(null, cancel);
        return detector.Targets(null, null, cancel)[0].BurialDepth;
    }

    [Fact]
    public void What_looks_like_nothing_in_the_library_is_left_to_others()
    {
        var random = new Random(2);
        var noise = new Complex[40];
        for (int i = 0; i < noise.Length; i++)
            noise[i] = new Complex(random.NextDouble() - 0.5, random.NextDouble() - 0.5);
        Assert.Null(EchoFit.Fit(new BodyLibrary(s_survey, s_pulse), [noise], [1e-4], 0.05, 0.05, 1, 1, false));
    }

    /// <summary>A rigid sphere's image in the library is as strong as high-frequency theory has it: half its radius (|f| = a/2, e.g. Johnson and others; checks.md §5).</summary>
    [Fact]
    public void The_librarys_rigid_spheres_are_half_a_radius_strong_at_their_top()
    {
        var library = new BodyLibrary(s_survey, s_pulse);
        var images = library.ImagesAt(0.01);
        for (int e = 0; e < library.Entries.Count; e++)
            if (library.Entries[e].Name == BodyLibrary.Rigid && library.Entries[e].Radius > 0.12)
            {
                Assert.Equal(1, images.At(e, images.SeatOf(0)).Magnitude / (0.5 * library.Entries[e].Radius), 0.08);
                Assert.True(images.At(e, images.SeatOf(-0.15)).Magnitude < 0.1 * images.At(e, images.SeatOf(0)).Magnitude);
            }
    }
}
