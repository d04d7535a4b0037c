using Undersand.Detection;
using Undersand.Imaging;

namespace Undersand.Tests.Detection;

public class TargetGroupingTests
{
    [Fact]
    public void A_ringing_body_is_one_target_whose_top_is_where_its_echo_begins()
    {
        foreach (double level in new[] { 1e-3, 0.05 })
        {
            var volume = new SyntheticVolume(128, 128, 50, 1);
            volume.AddSpeckle(0, 3, level);
            volume.AddPoint(0, 3.2, 3.2, 0.724, 0.6);
            volume.AddPoint(0, 3.2, 3.2, 0.90, 1.0, 2.0);
            volume.AddPoint(0, 3.2, 3.2, 1.06, 0.5, 1.0);
            volume.AddPoint(0, 3.2, 3.2, 1.22, 0.3, 4.0);
            var target = Assert.Single(DetectorTests.Run(volume));
            Assert.Equal(0.724, target.BurialDepth.Value, 0.015);
        }
    }

    [Fact]
    public void A_long_body_is_one_target_with_its_length_and_azimuth()
    {
        var volume = new SyntheticVolume(160, 160, 40, 2);
        volume.AddSpeckle(0, 5, 0.05);
        volume.AddSpeckle(1, 6, 0.05);
        var random = new Random(4);
        for (double s = -1.2; s <= 1.2; s += 0.04)
            for (int line = 0; line < 2; line++)
                volume.AddPoint(line, 4 + s * Math.Sin(Math.PI / 6), 4 + s * Math.Cos(Math.PI / 6), 0.8, 0.5 + 0.5 * random.NextDouble(), 0.5 * random.NextDouble());
        var target = Assert.Single(DetectorTests.Run(volume));
        Assert.Equal(2.4, target.Length!.Value, 0.36);
        Assert.Equal(30, target.Azimuth!.Value.Degrees, 5.0);
        Assert.Equal(2, target.LinesSeen);
    }

    [Fact]
    public void An_arc_of_one_line_is_one_target_with_its_mirror_image()
    {
        var volume = new SyntheticVolume(160, 128, 50, 1);
        volume.SetView(0, new Viewpoint(1, 8, Angle.FromDegrees(0), 4, 0), new Blur(0.09, 1.5, 0.075));
        volume.AddSpeckle(0, 7, 0.02);
        volume.AddArc(0, 4, 4.6, 3.2, 0.9, 1);
        var target = Assert.Single(DetectorTests.Run(volume));
        Assert.True(target.Alternative is not null || Math.Abs(target.Position.Easting - 1004) < 0.1);
        Assert.True(target.EllipseMajor > 0.4);
        Assert.Equal(90, target.EllipseAzimuth.Degrees, 5.0);
    }

    [Fact]
    public void Two_crossing_lines_of_one_receiver_resolve_the_place_across()
    {
        var volume = new SyntheticVolume(160, 160, 50, 2);
        volume.SetView(0, new Viewpoint(1, 8, Angle.FromDegrees(0), 4, 0), new Blur(0.09, 1.5, 0.075));
        volume.SetView(1, new Viewpoint(1, 8, Angle.FromDegrees(0), 5.5, 0), new Blur(0.09, 1.5, 0.075));
        volume.AddSpeckle(0, 7, 0.02);
        volume.AddSpeckle(1, 8, 0.02);
        volume.AddArc(0, 4, 4.6, 3.2, 0.9, 1);
        volume.AddArc(1, 5.5, 4.6, 3.2, 0.9, 1);
        var target = Assert.Single(DetectorTests.Run(volume));
        Assert.Null(target.Alternative);
        Assert.Equal(1004.6, target.Position.Easting, 0.1);
        Assert.Equal(2, target.LinesSeen);
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.1, 0.05)]
    [InlineData(-0.15, 0.15)]
    public void A_layer_is_no_target_but_the_point_over_it_is(double slopeEast, double slopeNorth)
    {
        var volume = new SyntheticVolume(192, 192, 60, 1);
        volume.AddSpeckle(0, 9, 0.05);
        volume.AddLayer(0, 10, 1.6, slopeEast, slopeNorth, 0.7);
        volume.AddPoint(0, 5, 5, 0.6, 0.7);
        var target = Assert.Single(DetectorTests.Run(volume), t => t.Probability.Value > 0.5);
        Assert.Equal(0.6, target.BurialDepth.Value, 0.015);
    }

    [Fact]
    public void Polarity_moves_the_materials_and_a_point_has_no_reflection_coefficient()
    {
        var volume = new SyntheticVolume(160, 96, 40, 1) { Seabed = 0.5 };
        volume.AddSpeckle(0, 11, 0.02);
        volume.AddPoint(0, 2.02, 2.4, 0.76, 1);
        volume.AddPoint(0, 5.97, 2.4, 0.93, 1, Math.PI);
        var targets = DetectorTests.Run(volume).OrderBy(t => t.Position.Easting).ToList();
        Assert.Equal(2, targets.Count);
        Assert.All(targets, t => Assert.Null(t.ReflectionRelativeToSeabed));
        Assert.All(targets, t => Assert.Equal(1, t.MaterialProbabilities.Values.Sum(), 1e-12));
        Assert.True(targets[1].MaterialProbabilities[Material.Timber] > targets[0].MaterialProbabilities[Material.Timber]);
    }
}
