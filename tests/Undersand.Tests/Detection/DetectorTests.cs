using Undersand.Detection;

namespace Undersand.Tests.Detection;

public class DetectorTests
{
    internal static Survey SurveyOf(double objectsPerHectare = 40) => new() { Prior = new(objectsPerHectare), Name = "synthetic", Epsg = 32631, Water = new(1500), Sediment = new(1650, 1950, 0.48), Waveform = new(4000, 18000, 0.005, 0.1) };

    internal static IReadOnlyList<Target> Run(SyntheticVolume volume, DetectionSettings? settings = null, double objectsPerHectare = 40, bool log = true)
    {
        var detector = new Detector(SurveyOf(objectsPerHectare), volume, volume, settings ?? new DetectionSettings());
        detector.LearnNull(null, TestContext.Current.CancellationToken);
        var targets = detector.Targets(null, null, TestContext.Current.CancellationToken);
        foreach (var t in log ? targets : [])
            TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant($"{t.Id} e {t.Position.Easting - 1000:F3} n {t.Position.Northing - 2000:F3} b {t.BurialDepth.Value:F3}±{t.BurialDepth.StandardDeviation:F3} p {t.Probability.Value:F4} lnBF {t.LogBayesFactor:F1} L {t.Length:F2} W {t.Width:F2} sd {t.HorizontalSd:F3} rel {t.ReflectionRelativeToSeabed:F2} lines {t.LinesSeen} looks {t.Looks} alt {t.Alternative} {t.Material} {string.Join(' ', t.Notes)}"));
        return targets;
    }

    [Fact]
    public void A_point_twenty_decibels_above_speckle_is_found_where_it_is()
    {
        var volume = new SyntheticVolume(128, 128, 50, 1);
        volume.AddSpeckle(0, 1);
        volume.AddPoint(0, 3.013, 2.987, 0.912, 10);
        var target = Assert.Single(Run(volume), t => t.Probability.Value > 0.5);
        Assert.True(target.Probability.Value > 0.95);
        Assert.Equal(1003.013, target.Position.Easting, 0.03);
        Assert.Equal(2002.987, target.Position.Northing, 0.03);
        Assert.Equal(0.912, target.BurialDepth.Value, 0.015);
    }

    [Fact]
    public void Speckle_alone_gives_no_target()
    {
        for (int seed = 1; seed <= 4; seed++)
        {
            var volume = new SyntheticVolume(192, 192, 60, 1);
            volume.AddSpeckle(0, seed);
            Assert.DoesNotContain(Run(volume), t => t.Probability.Value > 0.5);
        }
    }

    [Fact]
    public void Quiet_points_are_found_to_the_centimetre_and_their_sidelobes_are_not_targets()
    {
        var volume = new SyntheticVolume(192, 192, 50, 1);
        volume.AddSpeckle(0, 1, 1e-4);
        (double E, double N, double B)[] truth = [(2.52, 2.51, 0.331), (6.03, 2.48, 0.817), (2.49, 6.52, 1.268), (6.47, 6.53, 2.013)];
        foreach (var (e, n, b) in truth)
            volume.AddPoint(0, e, n, b, 1);
        var targets = Run(volume);
        Assert.Equal(4, targets.Count);
        foreach (var (e, n, b) in truth)
        {
            var t = targets.MinBy(t => t.Position.HorizontalDistanceTo(new GridPoint(1000 + e, 2000 + n, 0)))!;
            Assert.True(t.Probability.Value > 0.9);
            Assert.Equal(b, t.BurialDepth.Value, 0.015);
            Assert.True(t.Position.HorizontalDistanceTo(new GridPoint(1000 + e, 2000 + n, 0)) < 0.03);
        }
    }
}
